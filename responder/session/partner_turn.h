/// @file responder/session/partner_turn.h What the partner is asked, and says.

#ifndef RESPONDER_SESSION_PARTNER_TURN_H
#define RESPONDER_SESSION_PARTNER_TURN_H

#include "responder/session/session.h"

/// Return whether a turn is one that was written beforehand.
bool
partner_follows_script(const Session* session, const Standing* standing);

/**
   Begin to think about the session's reply.

   @param standing As things stand after the call; it must stay as it is while
   the thinking lasts.
*/
void
partner_turn_think(Session* session, const Standing* standing);

/// Decide the session's reply, which was thought about or is a script's, and
/// write its record.
void
partner_turn_say(Session* session, TurnRecord* record);

#endif // RESPONDER_SESSION_PARTNER_TURN_H
