/// @file responder/say/compass.h Where on the keyboard a line lies.

#ifndef RESPONDER_SAY_COMPASS_H
#define RESPONDER_SAY_COMPASS_H

#include "core/music/path.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/**
   Lay the rung's compass where the sketch's wishes are, inside the learner's
   range, and bring the wishes inside it.

   @param[out] problem Its lowest pitch and number of pitches are written.
   @param sketch One note or more. Far too wide, it is drawn together; phrases
   move by octaves; what still is outside goes to the edge.
*/
void
compass_set(PathProblem* problem, Sketch* sketch, const Frame* frame);

#endif // RESPONDER_SAY_COMPASS_H
