/// @file responder/say/grace.h Crushed notes, approaches and turns before a
/// note.

#ifndef RESPONDER_SAY_GRACE_H
#define RESPONDER_SAY_GRACE_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/frame.h"

#include <stdbool.h>
#include <stdint.h>

enum { GRACE_CAPACITY = 2 };

/// The ornament of one note; none if n_notes is 0.
typedef struct {
  unsigned n_notes;
  uint8_t  pitches[GRACE_CAPACITY]; ///< In the order played
} Grace;

/**
   Choose an ornament for a note, as rich as the rung allows.

   @param chord_tick Where the note's chord is looked up.
   @param n_most Notes that there is time for; 0 gives none.
*/
Grace
grace_choose(Frame*   frame,
             Tick     chord_tick,
             unsigned pitch,
             unsigned n_most,
             Rng*     rng);

/// Return how many ticks one note of an ornament lasts.
Tick
grace_ticks(const Frame* frame);

#endif // RESPONDER_SAY_GRACE_H
