/// @file responder/say/say_work.h Room for the partner to work in.
///
/// Its content means nothing between calls; the caller keeps one, in place, so
/// that answering allocates nothing and needs little stack. About 500 KiB.

#ifndef RESPONDER_SAY_SAY_WORK_H
#define RESPONDER_SAY_SAY_WORK_H

#include "core/music/path.h"
#include "responder/hear/ideas.h"
#include "responder/say/answer.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

typedef struct {
  Frame       frame;
  Source      source; ///< What is developed
  Source      first;  ///< The first idea
  Idea        source_idea;
  Sketch      sketch;
  PathProblem problem;
  PathSolver  solver;
  uint8_t     line[PATH_NOTE_CAPACITY];
  Answer      candidate;
  Deed        deed; ///< Of the best candidate so far
} SayWork;

#endif // RESPONDER_SAY_SAY_WORK_H
