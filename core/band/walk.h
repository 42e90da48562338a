/// @file core/band/walk.h A bass line from root to root, drawn as an exact
/// path.
///
/// The line is planned two bars ahead, and one of them is played: so each bar
/// knows where it comes from and where it is going.

#ifndef CORE_BAND_WALK_H
#define CORE_BAND_WALK_H

#include "core/band/part.h"
#include "core/band/walk_plan.h"
#include "core/music/path.h"
#include "core/rng.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  WALK_BAR_MAX = 6, ///< Notes that a line has in a bar, at most
};

typedef struct {
  Tick     tick; ///< Written
  WalkRole role;
  uint8_t  pitch;
} WalkNote;

/// A line, about 450 KiB; zeroed, it has not begun. Keep it in place.
typedef struct {
  uint8_t     last;         ///< The last pitch played; 0 before the first
  uint8_t     planned;      ///< The pitch that the line is going to
  Tick        planned_tick; ///< And where; of no matter while `planned` is 0
  PathProblem problem;
  PathSolver  solver;
} Walk;

/**
   Play a bar.

   @param line BASS_LINE_WALKING or BASS_LINE_TWO.
   @param[out] notes Rising by tick.
   @return How many.
*/
unsigned
walk_bar(Walk*      walk,
         const Cue* cue,
         BassLine   line,
         Rng*       rng,
         WalkNote   notes[WALK_BAR_MAX]);

#endif // CORE_BAND_WALK_H
