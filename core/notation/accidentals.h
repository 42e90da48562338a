/// @file core/notation/accidentals.h How notes are spelled, and which
/// accidentals are drawn.

#ifndef CORE_NOTATION_ACCIDENTALS_H
#define CORE_NOTATION_ACCIDENTALS_H

#include "core/attributes.h"
#include "core/music/chart.h"
#include "core/music/key.h"
#include "core/music/spelling.h"
#include "core/notation/written.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  ACCIDENTALS_LETTERS = 7,
  ACCIDENTALS_OCTAVES = 13,
  ACCIDENTALS_NOTHING = 128, ///< In place of a pitch: none follows
};

/// A written pitch.
typedef struct {
  Spelling spelling;
  int8_t   octave; ///< Of the letter, 4 from middle C up
} SpelledPitch;

/// What the reader of one staff knows of in a measure.
typedef struct {
  int8_t key[ACCIDENTALS_LETTERS];
  int8_t seen[ACCIDENTALS_LETTERS][ACCIDENTALS_OCTAVES]; ///< Octaves from -2 up
} Accidentals;

/**
   Spell a note as chord, scale and key have it.

   A note of none of these that leads by a semitone to the next one takes the
   letter beside it: D# up to E, Eb down to D. There are no double accidentals.

   @param next_pitch Of the note after it, or ACCIDENTALS_NOTHING.
*/
RT_SAFE SpelledPitch
accidentals_spell(const Chart*       chart,
                  const WrittenNote* note,
                  unsigned           next_pitch);

/// Begin a measure: only the key signature counts.
RT_SAFE void
accidentals_begin(Accidentals* accidentals, Key key);

/// Whether a note needs its accidental drawn; from then on it is known of.
RT_SAFE bool
accidentals_need(Accidentals* accidentals, SpelledPitch pitch);

#endif // CORE_NOTATION_ACCIDENTALS_H
