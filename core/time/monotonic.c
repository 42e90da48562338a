#include "core/time/monotonic.h"

#include <assert.h>
#include <errno.h>
#include <time.h>

int64_t
monotonic_ns(void)
{
  struct timespec now = {0, 0};
  (void)clock_gettime(CLOCK_MONOTONIC, &now);
  return now.tv_sec * NS_PER_S + now.tv_nsec;
}

static void
sleep_until(const int64_t ns)
{
  const struct timespec until = {ns / NS_PER_S, (long)(ns % NS_PER_S)};
  while (clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &until, NULL) ==
         EINTR) {
  }
}

Pace
pace_begin(const int speed)
{
  assert(speed >= 1);
  return (Pace){monotonic_ns(), speed};
}

int64_t
pace_of(const Pace* const pace, const int64_t machine_ns)
{
  return pace->origin_ns + (machine_ns - pace->origin_ns) * pace->speed;
}

int64_t
pace_ns(const Pace* const pace)
{
  return pace_of(pace, monotonic_ns());
}

int64_t
pace_moment(const Pace* const pace, const int64_t ns)
{
  const int64_t left = ns - pace->origin_ns; // Round up: never wake before
  return pace->origin_ns + (left + pace->speed - 1) / pace->speed;
}

void
pace_sleep_until(const Pace* const pace, const int64_t ns)
{
  sleep_until(pace_moment(pace, ns));
}

void
monotonic_sleep_ms(const unsigned ms)
{
  sleep_until(monotonic_ns() + ms * NS_PER_MS);
}
