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

#endif // CORE_TICK_H
