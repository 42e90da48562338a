/// @file core/band/bass_tone.h Where on the bass a tone of a chord is played.

#ifndef CORE_BAND_BASS_TONE_H
#define CORE_BAND_BASS_TONE_H

#include "core/band/feel.h"
#include "core/music/chord.h"
#include "core/music/key.h"
#include "core/rng.h"

#include <stdint.h>

enum {
  BASS_LOWEST  = 28, ///< E1, the open string
  BASS_HIGHEST = 55, ///< G3
};

/// A tone and what the player knows when it is to be played.
typedef struct {
  BassTone     tone;
  const Chord* chord; ///< Not silence
  const Chord* next;  ///< That an approach leads to; not silence with one
  Key          key;
  unsigned     last; ///< The pitch played last; 0 before the first
} BassAsk;

/**
   Return the root of a chord, or the bass note of a slash chord, where it lies
   nearest to a pitch, E1 to A2.

   @param last 0 for none.
*/
unsigned
bass_tone_root(const Chord* chord, unsigned last);

/// Return the pitch of a tone, BASS_LOWEST..BASS_HIGHEST; where there is a
/// choice of octaves, a near one.
unsigned
bass_tone_pitch(const BassAsk* ask, Rng* rng);

#endif // CORE_BAND_BASS_TONE_H
