/// @file tests/bench/said_chord.h Tones of a chord, read from its symbol by
/// the bench alone.
///
/// Root, quality and alterations as lead sheets write them (common practice,
/// no source); tests/tables/chords.csv is what it is checked against.

#ifndef TESTS_BENCH_SAID_CHORD_H
#define TESTS_BENCH_SAID_CHORD_H

#include <stdbool.h>

/// A chord that sounds from a tick on. Tones are pitch classes, bit 0 is C.
typedef struct {
  long     tick;
  unsigned root;
  unsigned tones; ///< 0 if the symbol was not understood
} SaidChord;

/// Read `F#m7b5` or `Bb13`; a bass note after a slash is no tone.
SaidChord
said_chord(const char* symbol);

/// Return semitones from a chord's root up to a pitch, 0..11.
unsigned
said_chord_degree(const SaidChord* chord, int pitch);

/// Whether a pitch is a tone of a chord.
bool
said_chord_has(const SaidChord* chord, int pitch);

/// Whether the chord has a major third and a minor seventh, and no b5.
bool
said_chord_is_dominant(const SaidChord* chord);

#endif // TESTS_BENCH_SAID_CHORD_H
