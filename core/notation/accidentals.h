/// @file core/notation/accidentals.h How notes are spelled, and which
/// accidentals are drawn.

#ifndef CORE_NOTATION_ACCIDENTALS_H
#define CORE_NOTATION_ACCIDENTALS_H

#include "core/music/chart.h"
#include "core/music/key.h"
#include "core/music/spelling.h"
#include "core/notation/written.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  ACCIDENTALS_LETTERS = 7,
  ACCIDENTALS_OCTAVES = 13,
  ACCIDENTALS_NOTHING = CHART_NOTHING, ///< In place of a pitch: none follows
};

/// A written pitch.
typedef struct {
  Spelling spelling;
  int8_t   octave; ///< Of the letter, 4 from middle C up
} SpelledPitch;

/// Which sign a note needs.
typedef enum {
  SIGN_NONE,
  SIGN_NEEDED,
  SIGN_COURTESY, ///< The bar line has undone another one: a reminder
} SignNeed;

/// What the reader of one staff knows of in a measure; zeroed, nothing of a
/// measure before.
typedef struct {
  bool is_open; ///< A measure was begun
  /// Octaves from -2 up.
  int8_t seen[ACCIDENTALS_LETTERS][ACCIDENTALS_OCTAVES];
  bool   was_altered[ACCIDENTALS_LETTERS][ACCIDENTALS_OCTAVES];
} Accidentals;

/**
   Spell a note as chart_spell_leading() does.

   @param next_pitch Of the note after it, or ACCIDENTALS_NOTHING.
*/
SpelledPitch
accidentals_spell(const Chart*       chart,
                  const WrittenNote* note,
                  unsigned           next_pitch);

/// Begin a measure: only the key signature counts, but what stood before the
/// bar line is in the reader's mind.
void
accidentals_begin(Accidentals* accidentals, Key key);

/// Return which sign a note needs; from then on it is known of.
SignNeed
accidentals_need(Accidentals* accidentals, SpelledPitch pitch);

#endif // CORE_NOTATION_ACCIDENTALS_H
