#include "responder/say/line.h"

#include "responder/say/compass.h"
#include "responder/say/pose.h"

void
line_prepare(PathProblem* const problem)
{
  pose_habits(problem);
}

bool
line_solve(PathProblem* const problem,
           PathSolver* const  solver,
           Frame* const       frame,
           Sketch* const      sketch,
           Rng* const         rng)
{
  compass_set(problem, sketch, frame);
  problem->n_notes = sketch->n_notes;
  for (unsigned pose = POSE_ALL; pose <= POSE_CHORD_TONES; ++pose) {
    pose_pitches(problem, frame, sketch, (Pose)pose, rng);
    pose_intervals(problem, frame, sketch, (Pose)pose);
    if (path_solve(solver, problem) == STATUS_OK) {
      return true;
    }
  }
  return false;
}
