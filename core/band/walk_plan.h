/// @file core/band/walk_plan.h The places of a bass line, before it has
/// pitches.

#ifndef CORE_BAND_WALK_PLAN_H
#define CORE_BAND_WALK_PLAN_H

#include "core/band/feel.h"
#include "core/band/part.h"
#include "core/music/chord.h"
#include "core/music/meter.h"
#include "core/rng.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  WALK_BARS_AHEAD = 2, ///< Planned, this bar and the next
  WALK_PLACES_MAX = WALK_BARS_AHEAD * METER_BEATS_PER_BAR_MAX + 1,
};

/// What a note of the line is there for.
typedef enum {
  WALK_ARRIVE,   ///< A chord comes: its root, or the bass note of a slash chord
  WALK_STRONG,   ///< A strong beat within a chord: one of its tones
  WALK_WEAK,     ///< A weak beat: a chord tone, or a passing note
  WALK_APPROACH, ///< A step or a fifth from the root of the next place
} WalkRole;

/// A place of the line and what its chord has.
typedef struct {
  Tick         tick; ///< Written
  WalkRole     role;
  bool         is_first_beat;
  const Chord* chord;
  unsigned     root; ///< Pitch classes
  unsigned     bass;
  unsigned     fifth;
  uint16_t     core; ///< Sets, as in pitch_set.h
  uint16_t     scale;
} WalkPlace;

typedef struct {
  BassLine  line;
  uint16_t  key; ///< Its notes
  unsigned  n;
  WalkPlace places[WALK_PLACES_MAX]; ///< Rising; the last is no WALK_APPROACH
} WalkPlan;

/**
   Lay out the cue's bar, the next, and the first beat beyond.

   Walking has a place on each beat where there is a chord. In two there are the
   halves of the bar (in three its first beat alone), each change, and now and
   then an approach on the bar's last beat.

   @param line BASS_LINE_WALKING or BASS_LINE_TWO.
*/
void
walk_plan_lay_out(WalkPlan* plan, const Cue* cue, BassLine line, Rng* rng);

#endif // CORE_BAND_WALK_PLAN_H
