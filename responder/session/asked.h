/// @file responder/session/asked.h What the partner is asked for in its turn.

#ifndef RESPONDER_SESSION_ASKED_H
#define RESPONDER_SESSION_ASKED_H

#include "responder/session/fit.h"
#include "responder/session/session.h"

/// Return whether a turn of the player's has what the partner showed a chorus
/// or two before to go by.
bool
asked_is_recalled(const Turn* turn);

/// Return whether a turn of the partner's is made simpler than the rung.
bool
asked_is_simpler(const Turn* turn, const Standing* standing);

/// Return how the call that stands is to be treated.
Treatment
asked_treatment(const Session* session, const Standing* standing);

/// Return where an answer must have ended: the last one closes with the band,
/// in the bar after its turn.
Tick
asked_end(const Session* session, const Turn* turn);

/// Return what the notes of the session's reply are fitted to.
FitTurn
asked_fit(const Session* session);

/// Return the request for the session's reply; it points into both.
SayRequest
asked_request(const Session* session, const Standing* standing);

#endif // RESPONDER_SESSION_ASKED_H
