/// @file responder/say/melody.h The pitches of a draft: first its skeleton of
/// guide tones, then the path between them, both drawn exactly.

#ifndef RESPONDER_SAY_MELODY_H
#define RESPONDER_SAY_MELODY_H

#include "core/music/path.h"
#include "core/rng.h"
#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/plan.h"
#include "responder/say/prompt.h"

#include <stdbool.h>

typedef struct {
  PathProblem problem;
  PathSolver  solver;
  uint8_t     anchors[DRAFT_CAPACITY];       ///< Keys; 0 where there is none
  bool        appoggiaturas[DRAFT_CAPACITY]; ///< Those that resolve to the next
  uint8_t     drawn[PATH_NOTE_CAPACITY];
} Melody;

/// Write what is alike for all lines of an answer.
void
melody_open(Melody*       melody,
            const Frame*  frame,
            const Prompt* call,
            Manner        manner);

/**
   Draw the skeleton of a draft and solve the path through it.

   @param melody Opened for this frame and call.
   @return Whether there is any line; path_draw() then draws them.
*/
bool
melody_solve(Melody*       melody,
             const Frame*  frame,
             const Draft*  draft,
             const Prompt* call,
             const Intent* intent,
             Contour       contour,
             Rng*          rng);

#endif // RESPONDER_SAY_MELODY_H
