/// @file core/tick.h Musical time: 960 ticks to the quarter note.

#ifndef CORE_TICK_H
#define CORE_TICK_H

#include <stdint.h>

/// Ticks from the first beat of bar 1; negative in the count-in.
typedef int64_t Tick;

enum {
  TICKS_PER_QUARTER = 960,
  TICKS_PER_EIGHTH  = 480,
};

/// Return the last multiple of a step that is not after a tick: the beat or the
/// bar that it lies in, in the count-in, too.
/// @param step 1 or more, in the unit of `tick`.
static inline Tick
tick_floor(const Tick tick, const Tick step)
{
  const Tick past = tick % step;
  return tick - (past < 0 ? past + step : past);
}

/// Return the earlier of two ticks, or the shorter of two lengths.
static inline Tick
tick_least(const Tick a, const Tick b)
{
  return a < b ? a : b;
}

#endif // CORE_TICK_H
