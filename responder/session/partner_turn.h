/// @file responder/session/partner_turn.h What the partner says in its turn.

#ifndef RESPONDER_SESSION_PARTNER_TURN_H
#define RESPONDER_SESSION_PARTNER_TURN_H

#include "responder/session/session.h"

/// Return whether the session's reply needs no thought: it was written
/// beforehand, or something is said again.
bool
partner_has_words(const Session* session, const Standing* standing);

/// Let what was shown at the place of the session's reply be the partner's last
/// phrase.
void
partner_turn_recall(Session* session);

/**
   Begin to think about the session's reply.

   @param standing As things stand after the call; it must stay as it is while
   the thinking lasts.
*/
void
partner_turn_think(Session* session, const Standing* standing);

/// Remember what the partner said as an idea, after the call that it answers.
void
partner_turn_remember(Session* session, TurnRecord* record);

/// Decide the session's reply, which was thought about or is a script's, and
/// write its record.
void
partner_turn_say(Session* session, TurnRecord* record);

#endif // RESPONDER_SESSION_PARTNER_TURN_H
