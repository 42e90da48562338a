/// @file responder/session/aim.h The one goal of a chorus in the usual way of
/// playing: it is said before it, looked back on after it, and kept for one
/// chorus more if it was not reached.

#ifndef RESPONDER_SESSION_AIM_H
#define RESPONDER_SESSION_AIM_H

#include "profiles/ladder/ladder.h"

#include <stdbool.h>
#include <stdint.h>

typedef enum {
  AIM_LAND,    ///< End on a chord tone
  AIM_ROOM,    ///< Leave silence
  AIM_TAKE_UP, ///< ... what the partner said
  AIM_TWICE,   ///< Say a thing twice
} Aim;

enum { N_AIMS = 4 };

/// How a chorus stands; made by aim_begin().
typedef struct {
  Aim      aim;
  bool     is_again;      ///< It was the goal of the chorus before, too
  unsigned n_turns;       ///< The player's, with notes
  unsigned n_met[N_AIMS]; ///< Turns that reached each
} AimStand;

/// Begin: who does not play all tones of a chord yet aims at the landing first,
/// others at anything.
AimStand
aim_begin(const NotesRung* notes, uint64_t seed);

/// Add a turn with notes.
/// @param reached By Aim.
void
aim_add(AimStand* stand, const bool reached[N_AIMS]);

/// Whether the chorus reached its goal; a thing said twice is said twice once.
bool
aim_is_met(const AimStand* stand);

/// Return how the next chorus begins: with the same goal, or the one that fell
/// behind most.
AimStand
aim_next(const AimStand* stand);

#endif // RESPONDER_SESSION_AIM_H
