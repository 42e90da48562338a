/// @file profiles/sheet/rhythm.h A rhythm to read: two bars that show what a
/// rung of rhythm allows.
///
/// Common practice, no source: the patterns are ours. Each ends in a rest where
/// there is room for one, and shows the newest thing that the rung allows.

#ifndef PROFILES_SHEET_RHYTHM_H
#define PROFILES_SHEET_RHYTHM_H

#include "core/music/meter.h"
#include "core/tick.h"
#include "profiles/ladder/ladder.h"

#include <stdbool.h>
#include <stdint.h>

enum { SHEET_MARK_CAPACITY = 64, SHEET_RHYTHM_BARS = 2 };

/// A written note or rest.
typedef struct {
  Tick tick;   ///< From the beginning of the first bar
  Tick length; ///< A note value, dotted or not, or a third of a quarter
  bool is_rest;
  bool ties_on; ///< Held into the next mark, which is a note
} SheetMark;

/// Two bars, filled without a gap.
typedef struct {
  unsigned  n_marks;
  SheetMark marks[SHEET_MARK_CAPACITY];
} SheetRhythm;

/// Write the rhythm of a rung in a meter.
SheetRhythm
sheet_rhythm(Meter meter, const RhythmRung* rung);

/**
   Write some rhythms of a rung, drawn by a seed: each holds what the rung
   allows, shows the newest of it where that can be, and rests somewhere; no
   two are alike.

   @param n 1 or more.
   @return How many: fewer where there are no more.
*/
unsigned
sheet_rhythms(Meter             meter,
              const RhythmRung* rung,
              uint64_t          seed,
              unsigned          n,
              SheetRhythm       rhythms[]);

#endif // PROFILES_SHEET_RHYTHM_H
