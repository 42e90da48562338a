/// @file responder/session/answering.h When a turn of the player's is over: it
/// is judged, and answered.

#ifndef RESPONDER_SESSION_ANSWERING_H
#define RESPONDER_SESSION_ANSWERING_H

#include "responder/session/session.h"

/// Think about the session's reply, or give it, as its moment has come; the
/// records of the turns that are decided go into `out`.
void
answering_step(Session* session, SessionOut* out);

/// Return when the call of an answer that came in before the line is to be
/// judged; INT64_MAX if there is none.
Tick
answering_next(const Session* session);

/// Judge it, at that moment, and put its record and the answer's into `out`; or
/// wait for its landing.
void
answering_close(Session* session, SessionOut* out);

#endif // RESPONDER_SESSION_ANSWERING_H
