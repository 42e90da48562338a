/// @file responder/say/line.h From a sketch to the path problem of its pitches.

#ifndef RESPONDER_SAY_LINE_H
#define RESPONDER_SAY_LINE_H

#include "core/attributes.h"
#include "core/music/path.h"
#include "core/rng.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdbool.h>

/// Write what holds for all problems: the habits.
void
line_prepare(PathProblem* problem);

/**
   Pose the problem of a sketch and solve it.

   The compass is laid where the wishes are; wishes that lie outside move by
   octaves. If no line can keep to everything, the wishes give way, then the
   notes outside and the scale tones; never what holds for every answer.

   @param problem Prepared by line_prepare().
   @param sketch One note or more; its pitches may move by octaves.
   @return Whether there is any line; path_draw() may then be called.
*/
MUST_USE bool
line_solve(PathProblem* problem,
           PathSolver*  solver,
           Frame*       frame,
           Sketch*      sketch,
           Rng*         rng);

#endif // RESPONDER_SAY_LINE_H
