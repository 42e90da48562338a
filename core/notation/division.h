/// @file core/notation/division.h How a beat is divided on paper: as the meter
/// has it, or by a tuplet.

#ifndef CORE_NOTATION_DIVISION_H
#define CORE_NOTATION_DIVISION_H

#include "core/music/meter.h"
#include "core/notation/value.h"

#include <stdbool.h>
#include <stdint.h>

/// A division, one row of the tables in division.c.
typedef struct {
  uint8_t slots;  ///< Places in the beat, even
  uint8_t actual; ///< `actual` notes in the time of `normal`; 0: no tuplet
  uint8_t normal;
  uint8_t type; ///< The ValueType of a slot in a tuplet
} Division;

/**
   Find the simplest division on which all of some places stand.

   @param offsets Ticks from the beat, 0 up to its length, `n` of them.
   @return A row that lives for ever. If nothing fits, the finest one as the
   meter has it.
*/
const Division*
division_find(Meter meter, const Tick* offsets, unsigned n);

/// Return the division of an undivided beat.
const Division*
division_none(Meter meter);

/// Return the division of two beats by a triplet of quarters.
const Division*
division_of_two_beats(void);

bool
division_is_tuplet(const Division* division);

/// Return the place nearest to a tick of the beat, in moments from the beat.
Moment
division_place(const Division* division, Meter meter, Tick offset);

/**
   Return the step on which a note that is followed by a rest ends, in moments:
   half beats, or a tuplet's own places as long as they are few.
*/
Moment
division_end_step(const Division* division, Meter meter);

#endif // CORE_NOTATION_DIVISION_H
