/// @file core/time/beat_clock.h Ticks and nanoseconds at a constant tempo.
///
/// Whole numbers only: after hours a tick stands where it stood in the first
/// bar's reckoning, and never drifts.

#ifndef CORE_TIME_BEAT_CLOCK_H
#define CORE_TIME_BEAT_CLOCK_H

#include "core/tick.h"

#include <stdint.h>

/// Where ticks fall, made by beat_clock_at().
typedef struct {
  int64_t origin_ns; ///< Of tick 0
  int64_t whole_ns;  ///< Of one tick, and
  int64_t part;      ///< this many
  int64_t parts;     ///< of these
} BeatClock;

/**
   Lay tick 0 on a moment.

   @param tempo_bpm Quarters a minute, 1..1000; taken to the nearest 1/10000.
*/
BeatClock
beat_clock_at(int64_t origin_ns, double tempo_bpm);

/// Return when a tick begins, rounded down to a nanosecond; right for 10^9
/// ticks both ways (over 50 hours at 320 quarters a minute).
int64_t
beat_clock_ns(const BeatClock* clock, Tick tick);

/// Return the tick that a moment lies in: the last one that has begun.
Tick
beat_clock_tick(const BeatClock* clock, int64_t ns);

#endif // CORE_TIME_BEAT_CLOCK_H
