/// @file core/notation/measure.h One measure of one staff, symbol by symbol.
///
/// Plain values of fixed capacity; a Measure is about 8 KiB.

#ifndef CORE_NOTATION_MEASURE_H
#define CORE_NOTATION_MEASURE_H

#include "core/music/meter.h"
#include "core/notation/value.h"
#include "core/notation/written.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  MEASURE_CAPACITY = 256, ///< Symbols; no measure needs more
  MEASURE_BEAMS    = 4,
};

/// How a symbol's beam of one level goes on.
typedef enum {
  BEAM_NONE,
  BEAM_BEGIN,
  BEAM_CONTINUE,
  BEAM_END,
  BEAM_FORWARD, ///< A hook
  BEAM_BACKWARD,
} Beam;

/// A note, chord or rest.
typedef struct {
  Moment        start;         ///< From the beginning of the measure
  Moment        length;        ///< The sum of all is the measure's
  const Column* column;        ///< NULL: a rest
  Value         value;         ///< As it is drawn
  bool          is_whole_rest; ///< A rest that fills the measure
  bool          ties_in;       ///< Goes on with the column's notes
  bool          ties_out;
  uint8_t       actual; ///< Of its tuplet: `actual` in the time of `normal`;
  uint8_t       normal; ///< 0: it is in none
  uint8_t       tuplet_type; ///< The ValueType that these count
  bool          begins_tuplet;
  bool          ends_tuplet;
  uint8_t       beams[MEASURE_BEAMS]; ///< Beam, from the eighth's on
} Symbol;

typedef struct {
  unsigned n_symbols;
  Symbol   symbols[MEASURE_CAPACITY];
} Measure;

/**
   Write a measure.

   @param columns Of the staff, rising.
   @param start Of the measure, on a bar line; a pick-up measure, of whole
   beats, counts as the end of a bar.
   @param length Of the measure; the meter's bar or less in a pick-up.
   @param[out] measure Written whole.
*/
void
measure_write(Measure*      measure,
              Meter         meter,
              const Column* columns,
              size_t        n_columns,
              Moment        start,
              Moment        length);

#endif // CORE_NOTATION_MEASURE_H
