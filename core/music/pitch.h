/// @file core/music/pitch.h MIDI key numbers, their octaves and names.

#ifndef CORE_MUSIC_PITCH_H
#define CORE_MUSIC_PITCH_H

#include "core/music/spelling.h"

#include <stddef.h>

enum {
  OCTAVE              = 12, ///< Semitones
  PITCH_CLASSES       = 12, ///< Of them, 0..11 (0 = C)
  PITCH_TEXT_CAPACITY = 12,
};

/**
   Write a pitch by a spelling of its class: 60 as C is `C4`, 59 as Cb is `Cb4`,
   60 as B# is `B#3` (scientific pitch notation).

   @return `buffer`
*/
const char*
pitch_text(unsigned pitch, Spelling spelling, char buffer[PITCH_TEXT_CAPACITY]);

/// Return how many of the twelve a set has; bit n stands for pitch class or
/// degree n.
static inline unsigned
pitch_classes_count(const unsigned set)
{
  unsigned n = 0;
  for (unsigned left = set; left; left &= left - 1) {
    ++n;
  }
  return n;
}

#endif // CORE_MUSIC_PITCH_H
