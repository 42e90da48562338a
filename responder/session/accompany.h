/// @file responder/session/accompany.h What the band hears of the conversation.
///
/// Over the partner's line the band knows what is to come; of the player it
/// knows what has been played, and expects the like in the next bar.

#ifndef RESPONDER_SESSION_ACCOMPANY_H
#define RESPONDER_SESSION_ACCOMPANY_H

#include "core/band/solo.h"
#include "responder/session/session.h"

/// Return the mean velocity of the player's last turn, or what it was before
/// if that was silent.
double
accompany_loudness(const Session* session);

/// Return what the band hears before it makes the bar that begins at a tick.
Solo
accompany_solo(const Session* session, Tick bar);

#endif // RESPONDER_SESSION_ACCOMPANY_H
