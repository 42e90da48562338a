/// @file responder/say/perform.h From written pitches to notes that sound.

#ifndef RESPONDER_SAY_PERFORM_H
#define RESPONDER_SAY_PERFORM_H

#include "core/rng.h"
#include "responder/say/answer.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdint.h>

/**
   Play a line: places by feel, lengths and stress shaped, ornaments before.

   One note sounds at a time; none before the turn begins, none after it ends.

   @param answer Its notes, grid ticks and marks of ornament are written.
   @param line The pitches of the sketch's notes.
*/
void
perform(Answer*        answer,
        Frame*         frame,
        const Sketch*  sketch,
        const uint8_t* line,
        Rng*           rng);

#endif // RESPONDER_SAY_PERFORM_H
