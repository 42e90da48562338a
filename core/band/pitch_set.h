/// @file core/band/pitch_set.h Chords and keys as sets of pitch classes.
///
/// In a set, bit n stands for pitch class n (0 = C).

#ifndef CORE_BAND_PITCH_SET_H
#define CORE_BAND_PITCH_SET_H

#include "core/music/chord.h"
#include "core/music/key.h"
#include "core/music/pitch.h"

#include <stdbool.h>
#include <stdint.h>

bool
pitch_set_has(uint16_t set, unsigned pitch);

/// Return the notes of the key's signature.
uint16_t
pitch_set_of_key(Key key);

/// Return the tones that bear weight; none for silence.
uint16_t
pitch_set_core(const Chord* chord);

/// Return the notes of the scale that a chord suggests by its kind.
uint16_t
pitch_set_scale(const Chord* chord);

/// Return the semitones from the root up to the chord's fifth, which may be
/// altered; 7 if it has none.
unsigned
pitch_set_fifth(const Chord* chord);

#endif // CORE_BAND_PITCH_SET_H
