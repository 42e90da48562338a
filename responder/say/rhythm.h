/// @file responder/say/rhythm.h Rhythms that fit the rung and leave room.

#ifndef RESPONDER_SAY_RHYTHM_H
#define RESPONDER_SAY_RHYTHM_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdbool.h>

/**
   Fit a rhythm to the rung and the turn.

   Onsets go to the nearest places that the rung allows, beat by beat; without
   off-beats none is left hanging in the air; the weakest go where there are too
   many; the line ends before the turn does and rests enough. What fits is left
   as it is.
*/
void
rhythm_fit(Sketch* sketch, const Frame* frame, Rng* rng);

/**
   Add a rhythm of the rung's own vocabulary.

   @param model Copied for each note, but for its place.
   @param n_notes About how many.
*/
void
rhythm_draw(Sketch*      sketch,
            const Frame* frame,
            Tick         from,
            Tick         until,
            unsigned     n_notes,
            SketchNote   model,
            Rng*         rng);

/// Return how much an onset matters to its line: strong places, long notes, the
/// first and the last.
double
rhythm_importance(const Sketch* sketch, const Frame* frame, unsigned index);

/// Take out the least important notes until `n_notes` are left.
void
rhythm_thin(Sketch* sketch, const Frame* frame, unsigned n_notes);

#endif // RESPONDER_SAY_RHYTHM_H
