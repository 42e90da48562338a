/// @file responder/session/player_turn.h What a turn of the player's is heard
/// to be, and what it leads to.

#ifndef RESPONDER_SESSION_PLAYER_TURN_H
#define RESPONDER_SESSION_PLAYER_TURN_H

#include "responder/session/session.h"

/**
   Hear a turn as far as it has been played.

   The session stays as it is, but for its room to work in.

   @param now Keys struck from then on are not heard.
   @param[out] after Where things then stand; not the session's own.
   @param[out] record Written whole but for the remark.
*/
void
player_turn_hear(Session*    session,
                 const Turn* turn,
                 Tick        now,
                 Standing*   after,
                 TurnRecord* record);

/// Keep what was said in a turn that is over, to know it again.
void
player_turn_keep(Session* session, const TurnRecord* record);

/**
   Hear a turn again that went on after it was answered: what was said in it
   whole is what is remembered, and compared with the next.
*/
void
player_turn_complete(Session* session, const Turn* turn, Tick now);

/// Say one line about a turn that is over, and write it into its record.
void
player_turn_remark(Session* session, TurnRecord* record);

/// Whether the player's place is lost.
bool
player_is_lost(const Standing* standing);

#endif // RESPONDER_SESSION_PLAYER_TURN_H
