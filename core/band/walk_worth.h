/// @file core/band/walk_worth.h What pitches and intervals of a bass line are
/// worth.

#ifndef CORE_BAND_WALK_WORTH_H
#define CORE_BAND_WALK_WORTH_H

#include "core/band/walk_plan.h"
#include "core/music/path.h"

/// Write what an interval is worth after the one before it.
void
walk_worth_habits(PathProblem* problem);

/**
   Write what the pitches of a place are worth, and the intervals that lead to
   it.

   @param problem Its pitches are BASS_LOWEST..BASS_HIGHEST.
   @param note Of the problem.
   @param place Of the plan.
*/
void
walk_worth_place(PathProblem*    problem,
                 unsigned        note,
                 const WalkPlan* plan,
                 unsigned        place);

#endif // CORE_BAND_WALK_WORTH_H
