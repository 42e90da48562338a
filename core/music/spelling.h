/// @file core/music/spelling.h How a pitch class is written: letter and
/// accidental.

#ifndef CORE_MUSIC_SPELLING_H
#define CORE_MUSIC_SPELLING_H

#include "core/music/interval.h"

#include <stddef.h>
#include <stdint.h>

/// A written pitch class. A zeroed Spelling is C.
typedef struct {
  int8_t letter; ///< 0..6: C D E F G A B
  int8_t alter;  ///< Semitones up (sharps) or down (flats), -3..3
} Spelling;

enum { SPELLING_TEXT_CAPACITY = 8 };

/// Return the pitch class, 0..11 (0 = C).
unsigned
spelling_pitch_class(Spelling spelling);

/// Return the note `interval` above, spelled by its number: a third above D is
/// always some F.
Spelling
spelling_above(Spelling spelling, Interval interval);

/// Return the interval from one note up to the next note of another's name, so
/// that spelling_above() leads there.
Interval
spelling_interval(Spelling from, Spelling to);

/// Return the plain way to write the same pitch class: a natural if there is
/// one, else one sharp for a sharpened note, one flat for a flattened one.
Spelling
spelling_plain(Spelling spelling);

/**
   Return a way to write the same pitch class on which notes can be read: none
   of those above it has a triple accidental, nor it a double one.

   @param above The intervals up to those notes, `n` of them.
   @return The spelling itself if that holds, else the plain one, else its other
   name (A# for Bb).
*/
Spelling
spelling_readable(Spelling spelling, const Interval* above, unsigned n);

/// Write it as `Eb`, `F#`, `Bbb`, `Cx` is written `C##`; return `buffer`.
const char*
spelling_text(Spelling spelling, char buffer[SPELLING_TEXT_CAPACITY]);

/**
   Read a letter and its accidentals (`b`, `#`, any number up to three) from the
   start of a text. Letters are upper case.

   @param[out] spelling Written on success only.
   @return The number of characters read, 0 if the text begins otherwise.
*/
size_t
spelling_parse(Spelling* spelling, const char* text);

#endif // CORE_MUSIC_SPELLING_H
