/// @file core/notation/value.h Note values, and the moments that notation
/// counts in.
///
/// A Moment is a seventh of a tick, so that the places of every tuplet up to
/// septuplets are whole numbers.

#ifndef CORE_NOTATION_VALUE_H
#define CORE_NOTATION_VALUE_H

#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  MOMENTS_PER_TICK    = 7,
  MOMENTS_PER_QUARTER = MOMENTS_PER_TICK * TICKS_PER_QUARTER,
};

/// From the first beat of bar 1; negative in a pick-up.
typedef int64_t Moment;

/// From short to long; each is twice the one before.
typedef enum {
  VALUE_64TH,
  VALUE_32ND,
  VALUE_16TH,
  VALUE_EIGHTH,
  VALUE_QUARTER,
  VALUE_HALF,
  VALUE_WHOLE,
} ValueType;

/// A note value; zeroed, it is a 64th.
typedef struct {
  uint8_t type; ///< A ValueType
  uint8_t dots; ///< 0 or 1
} Value;

/// Return the length of a note value outside of tuplets.
Moment
value_length(Value value);

/**
   Find the note value of a length, plain or dotted.

   @param[out] value Written on success only.
   @return Whether there is one.
*/
bool
value_find(Value* value, Moment length);

#endif // CORE_NOTATION_VALUE_H
