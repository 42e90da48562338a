/// @file core/abc/pen.h The notes and rests of a measure in letters.

#ifndef CORE_ABC_PEN_H
#define CORE_ABC_PEN_H

#include "core/notation/accidentals.h"
#include "core/notation/measure.h"
#include "core/notation/score.h"

#include <stdio.h>

/// Lengths are counted in sixteenths: `L:1/16`.
#define ABC_UNIT ((Moment)MOMENTS_PER_QUARTER / 4)

/// A staff under the pen.
typedef struct {
  FILE*             stream;
  const Chart*      chart;
  const ScoreStaff* staff;
  Accidentals       accidentals;
  Measure           measure;
} AbcPen;

/// Prepare a measure of the staff; its symbols are then in `pen->measure`.
void
pen_begin(AbcPen* pen, ScoreMeasure place);

/// Write a symbol of the measure: what begins a tuplet, grace notes, then a
/// note, a chord or a rest.
void
pen_write(AbcPen* pen, unsigned i);

/// Write `K:` and the key.
void
pen_key(FILE* stream, Key key);

/// Write a pitch with the sign it needs.
void
pen_pitch(AbcPen* pen, SpelledPitch pitch);

/// Write a length after its note; one unit is left out.
void
pen_length(FILE* stream, Moment length);

/// Write words between quotes, so that they end there.
void
pen_quoted(FILE* stream, const char* mark, const char* words);

#endif // CORE_ABC_PEN_H
