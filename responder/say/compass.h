/// @file responder/say/compass.h Where on the keyboard a line lies.

#ifndef RESPONDER_SAY_COMPASS_H
#define RESPONDER_SAY_COMPASS_H

#include "core/music/path.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/**
   Lay the rung's compass where the sketch's wishes are, inside the learner's
   range, and bring the wishes there by octaves.

   @param[out] problem Its lowest pitch and number of pitches are written.
   @param sketch One note or more. Far too wide, it is drawn together. What
   still is outside stays so: the line comes as near as it can.
*/
void
compass_set(PathProblem* problem, Sketch* sketch, const Frame* frame);

#endif // RESPONDER_SAY_COMPASS_H
