/// @file responder/session/answering.h When a turn of the player's is over: it
/// is judged, and answered.

#ifndef RESPONDER_SESSION_ANSWERING_H
#define RESPONDER_SESSION_ANSWERING_H

#include "responder/session/session.h"

/// Think about the session's reply, or give it, as its moment has come; the
/// records of the turns that are decided go into `out`.
void
answering_step(Session* session, SessionOut* out);

#endif // RESPONDER_SESSION_ANSWERING_H
