/// @file core/time/monotonic.h The machine's own clock, which is never set and
/// never goes back.
///
/// Threads: any. A Pace is read by all and changed by none.

#ifndef CORE_TIME_MONOTONIC_H
#define CORE_TIME_MONOTONIC_H

#include <stdint.h>

#define NS_PER_MS INT64_C(1000000)
#define NS_PER_S INT64_C(1000000000)

/// How fast the time of a session passes; tests let hours pass in minutes.
typedef struct {
  int64_t origin_ns; ///< Of the machine's clock; both agree here
  int     speed;     ///< 1: as the machine's
} Pace;

/// Return the machine's monotonic clock, nanoseconds since some moment.
int64_t
monotonic_ns(void);

/// Return a pace that begins now; `speed` is 1 or more.
Pace
pace_begin(int speed);

/// Return the time of a pace, nanoseconds.
int64_t
pace_ns(const Pace* pace);

/// Return the time of a pace at a moment of the machine's clock.
int64_t
pace_of(const Pace* pace, int64_t machine_ns);

/// Return the moment of the machine's clock at which it is no sooner than a
/// time of a pace.
int64_t
pace_moment(const Pace* pace, int64_t ns);

/// Sleep until a moment of a pace; at once if it has passed. Signals do not
/// shorten it.
void
pace_sleep_until(const Pace* pace, int64_t ns);

/// Sleep on the machine's clock.
void
monotonic_sleep_ms(unsigned ms);

#endif // CORE_TIME_MONOTONIC_H
