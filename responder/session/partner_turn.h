/// @file responder/session/partner_turn.h What the partner is asked, and says.

#ifndef RESPONDER_SESSION_PARTNER_TURN_H
#define RESPONDER_SESSION_PARTNER_TURN_H

#include "responder/session/session.h"

/// Return what is asked of the partner for a turn; it points into the session
/// and `standing`.
SayRequest
partner_turn_request(const Session*  session,
                     const Standing* standing,
                     const Turn*     turn);

/// Return whether a turn is one that was written beforehand.
bool
partner_follows_script(const Session* session, const Standing* standing);

/// Decide a turn, and write its record.
void
partner_turn_say(Session* session, const Turn* turn, TurnRecord* record);

#endif // RESPONDER_SESSION_PARTNER_TURN_H
