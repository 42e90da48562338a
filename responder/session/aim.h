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
  bool     is_again;        ///< It was the goal of the chorus before, too
  unsigned n_turns;         ///< The player's, with notes
  unsigned n_could[N_AIMS]; ///< Turns that could reach each
  unsigned n_met[N_AIMS];   ///< ... and did
} AimStand;

/// How much of a chorus reached its goal.
typedef enum { AIM_NOT, AIM_IN_PART, AIM_MOSTLY, AIM_WHOLLY } AimGrade;

/// What a turn did for each goal.
typedef struct {
  bool has_notes;
  bool could[N_AIMS]; ///< Nothing is taken up where nothing was said
  bool reached[N_AIMS];
} AimTurn;

/// Begin: who does not play all tones of a chord yet aims at the landing first,
/// others at anything.
AimStand
aim_begin(const NotesRung* notes, uint64_t seed);

/// Add a turn.
void
aim_add(AimStand* stand, const AimTurn* turn);

/// Whether a turn with notes was there that could reach the goal.
bool
aim_is_heard(const AimStand* stand);

/// Return how much of the chorus reached its goal, if it is heard; a thing said
/// twice is said twice once.
AimGrade
aim_grade(const AimStand* stand);

/// Return how the next chorus begins: with the same goal, or the one that fell
/// behind most. Who was silent is not asked for silence.
AimStand
aim_next(const AimStand* stand);

#endif // RESPONDER_SESSION_AIM_H
