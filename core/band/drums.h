/// @file core/band/drums.h The drums of the band, their fills and the count-in.

#ifndef CORE_BAND_DRUMS_H
#define CORE_BAND_DRUMS_H

#include "core/band/part.h"
#include "core/band/rotation.h"
#include "core/rng.h"

#include <stdbool.h>

/// Drums by their General MIDI keys (General MIDI System Level 1).
typedef enum {
  DRUM_BASS       = 36,
  DRUM_SIDE_STICK = 37,
  DRUM_SNARE      = 38,
  DRUM_LOW_TOM    = 43, ///< High floor tom
  DRUM_PEDAL_HAT  = 44,
  DRUM_MIDDLE_TOM = 47,
  DRUM_CRASH      = 49,
  DRUM_HIGH_TOM   = 50,
  DRUM_RIDE       = 51,
} Drum;

/// A drummer; zeroed, it has not begun.
typedef struct {
  Rotation rotation;
  bool     has_filled; ///< The bar before ended in a fill
} Drums;

/**
   Play a bar: a pattern, and, when the band is full, now and then a light fill
   at the end of four bars of the form, more often of eight, and mostly of all.
   A fill leads on to the player's turn, mostly; now and then the snare drum
   takes up the call's last accent.

   With roots only, the pedal hi-hat on the weak beats.
*/
void
drums_play(Drums* drums, const Cue* cue, Rng* rng, BandBar* bar);

/// Play one stroke of cymbal and bass drum on the bar's first beat.
void
drums_end(const Cue* cue, Rng* rng, BandBar* bar);

/// Return how many bars are counted in: two if one is shorter than 1.6 s.
unsigned
drums_count_bars(const Cue* cue);

/// Count in one bar, on each beat; at `half` speed on the first beat, and in
/// four on the third.
void
drums_count(const Cue* cue, bool half, Rng* rng, BandBar* bar);

#endif // CORE_BAND_DRUMS_H
