/// @file profiles/plan/warmup.h A warm-up for one learner and one day.
///
/// From the hands to the conversation: scales and chord tones, a rhythm to
/// echo, what the learner does least well, trading, and what they do best to
/// end with. Each drill is played before and echoed, round by round, after a
/// count-in. A short warm-up trades once, in the day's way of playing together;
/// from twenty minutes on at least a third of it is trading, in that way and
/// others and as usual. Nothing has more than WARMUP_MOST_ROUNDS rounds; a long
/// warm-up goes round again instead.

#ifndef PROFILES_PLAN_WARMUP_H
#define PROFILES_PLAN_WARMUP_H

#include "profiles/ladder/ladder.h"
#include "profiles/ladder/way.h"
#include "profiles/plan/drill.h"

#include <stdbool.h>
#include <stdint.h>

enum { WARMUP_CAPACITY = 56, WARMUP_MOST_ROUNDS = 12 };

/// What a plan is made of.
typedef struct {
  DrillRoom room;
  double    tempo_bpm;
  double    minutes;  ///< 3 to 60, about
  unsigned  count_in; ///< Bars
  bool      trades;
  unsigned  form_bars; ///< Of a chorus
  Dimension weakest;
  Dimension strongest;
  uint64_t  seed; ///< The day's
} WarmupRequest;

typedef struct {
  bool      trades; ///< Choruses of trading; else a drill
  Way       way;    ///< Of trading
  DrillKind kind;
  unsigned  rhythm; ///< The rung of its rhythm
  unsigned  bars;   ///< Of a drill; its echo has as many
  unsigned  rounds; ///< Of a drill, or choruses
  uint64_t  seed;
  double    seconds; ///< With count-in, echoes and a bar to breathe
} WarmupItem;

typedef struct {
  unsigned   n_items;
  WarmupItem items[WARMUP_CAPACITY];
  double     seconds;
} Warmup;

/// Return the drill for a dimension of the ladder.
DrillKind
warmup_drill_for(Dimension dimension);

/// Make a plan; the same request gives the same one.
Warmup
warmup_make(const WarmupRequest* request);

#endif // PROFILES_PLAN_WARMUP_H
