/// @file responder/say/plain.h The answer that is always possible.

#ifndef RESPONDER_SAY_PLAIN_H
#define RESPONDER_SAY_PLAIN_H

#include "core/music/path.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdint.h>

enum {
  PLAIN_ROOTS = 64 ///< So many variants there are
};

/**
   Write the root on one beat or some, all in the first half of the turn; the
   piece ends on the tonic, on the first beat of the last bar.

   @param variant Any number; each gives other beats.
   @param[out] line The pitches.
*/
void
plain_root(Sketch*  sketch,
           Frame*   frame,
           unsigned variant,
           uint8_t  line[PATH_NOTE_CAPACITY]);

#endif // RESPONDER_SAY_PLAIN_H
