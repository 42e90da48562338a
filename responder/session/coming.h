/// @file responder/session/coming.h What is said of what comes: the next turn,
/// the next chorus, and the one that is over.

#ifndef RESPONDER_SESSION_COMING_H
#define RESPONDER_SESSION_COMING_H

#include "responder/session/session.h"

/// Count a turn of the player's, which is judged, for the goal of its chorus.
void
coming_count(Session* session, const TurnRecord* record);

/// Write into a record what is said of the turn that comes after it.
void
coming_say(Session* session, TurnRecord* record);

#endif // RESPONDER_SESSION_COMING_H
