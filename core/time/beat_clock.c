#include "core/time/beat_clock.h"

#include <math.h>

// A tick lasts 60 s / (bpm x 960): 6 x 10^14 / (bpm x 10^4 x 960) ns
static const int64_t ns_times_1e4_a_minute = INT64_C(600000000000000);

static int64_t
floor_div(const int64_t a, const int64_t b)
{
  return a / b - (a % b < 0);
}

BeatClock
beat_clock_at(const int64_t origin_ns, const double tempo_bpm)
{
  const int64_t parts = llround(tempo_bpm * 1e4) * TICKS_PER_QUARTER;
  return (BeatClock){
    .origin_ns = origin_ns,
    .whole_ns  = ns_times_1e4_a_minute / parts,
    .part      = ns_times_1e4_a_minute % parts,
    .parts     = parts,
  };
}

int64_t
beat_clock_ns(const BeatClock* const clock, const Tick tick)
{
  return clock->origin_ns + tick * clock->whole_ns +
         floor_div(tick * clock->part, clock->parts);
}

Tick
beat_clock_tick(const BeatClock* const clock, const int64_t ns)
{
  const double tick_ns =
    (double)clock->whole_ns + (double)clock->part / (double)clock->parts;
  Tick tick = (Tick)floor((double)(ns - clock->origin_ns) / tick_ns);
  while (beat_clock_ns(clock, tick) > ns) {
    --tick;
  }
  while (beat_clock_ns(clock, tick + 1) <= ns) {
    ++tick;
  }
  return tick;
}
