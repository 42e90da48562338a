/// @file core/notation/written.h Notes on their way to paper: what stands where
/// on a staff, and how long.
///
/// A staff holds one voice: notes that begin together are a column, and a
/// column ends at the latest where the next one begins.

#ifndef CORE_NOTATION_WRITTEN_H
#define CORE_NOTATION_WRITTEN_H

#include "core/music/meter.h"
#include "core/notation/division.h"
#include "core/notation/value.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// A note as it is to be written.
typedef struct {
  Tick    tick;       ///< Written onset; of a grace note, that of its column
  Tick    heard;      ///< When it sounded: grace notes stand in that order
  Tick    sounding;   ///< How long it sounded, 1 or more
  Tick    chord_tick; ///< Whose chord it is spelled by
  uint8_t pitch;      ///< MIDI key number
  uint8_t staff;      ///< 0 the upper, 1 the lower
  uint8_t finger;     ///< 1..5; 0: none is told
  bool    is_grace;   ///< Crushed into what stands at `tick`
} WrittenNote;

/// What begins together on a staff.
typedef struct {
  Moment          start;
  Moment          end;      ///< Where it ends on paper
  size_t          first;    ///< Its first note in the list; grace notes first
  unsigned        n_graces; ///< In the order in which they sound
  unsigned        n_notes;  ///< Of the chord, from low to high
  const Division* division; ///< Of the beat that it begins in
} Column;

/// Compare for a list that written_columns() takes: by staff, onset, grace
/// notes first and as they sounded, then by pitch.
int
written_compare(const WrittenNote* a, const WrittenNote* b);

/**
   Make columns of the notes of one staff.

   Every length becomes one that can be written: up to the next column unless a
   rest of an eighth or more was heard, else up to a half beat (a place of the
   triplet in triplets). Grace notes before nothing are written as notes, and of
   two notes of a pitch one is written.

   @param notes Of one staff, in the order of written_compare(); those left out
   are taken out of the list.
   @param[in,out] n_notes
   @param end Of the piece; nothing lasts longer.
   @param[out] columns Room for as many as there are notes.
   @return How many columns.
*/
size_t
written_columns(Meter        meter,
                WrittenNote* notes,
                size_t*      n_notes,
                Tick         end,
                Column*      columns);

#endif // CORE_NOTATION_WRITTEN_H
