/// @file responder/say/pose.h The weights of a sketch's path: pitches,
/// intervals, habits.

#ifndef RESPONDER_SAY_POSE_H
#define RESPONDER_SAY_POSE_H

#include "core/music/path.h"
#include "core/rng.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/// How much of the sketch's wishes a problem takes up.
typedef enum {
  POSE_ALL,
  POSE_WITHOUT_WISHES,
  POSE_CHORD_TONES, ///< Nor scale tones, nor notes outside
} Pose;

/**
   Write what each pitch is worth at each place, and how it must be left.

   @param problem Its number of notes and its compass are set.
*/
void
pose_pitches(PathProblem*  problem,
             Frame*        frame,
             const Sketch* sketch,
             Pose          pose,
             Rng*          rng);

/// Write what each interval to each place is worth.
void
pose_intervals(PathProblem*  problem,
               const Frame*  frame,
               const Sketch* sketch,
               Pose          pose);

/// Write what follows well after which interval: the same for all sketches.
void
pose_habits(PathProblem* problem);

#endif // RESPONDER_SAY_POSE_H
