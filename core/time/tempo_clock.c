#include "core/time/tempo_clock.h"

TempoClock
tempo_clock_at(const int64_t origin_ns, const double tempo_bpm)
{
  const BeatClock clock = beat_clock_at(origin_ns, tempo_bpm);
  return (TempoClock){0, clock, clock};
}

void
tempo_clock_change(TempoClock* const clock,
                   const Tick        from,
                   const double      tempo_bpm)
{
  const BeatClock zero = beat_clock_at(0, tempo_bpm);
  const int64_t   at   = tempo_clock_ns(clock, from);
  clock->before        = clock->after;
  clock->from          = from;
  clock->after = beat_clock_at(at - beat_clock_ns(&zero, from), tempo_bpm);
}

void
tempo_clock_delay(TempoClock* const clock, const int64_t ns)
{
  clock->before.origin_ns += ns;
  clock->after.origin_ns += ns;
}

int64_t
tempo_clock_ns(const TempoClock* const clock, const Tick tick)
{
  return beat_clock_ns(tick < clock->from ? &clock->before : &clock->after,
                       tick);
}

Tick
tempo_clock_tick(const TempoClock* const clock, const int64_t ns)
{
  return beat_clock_tick(ns < beat_clock_ns(&clock->after, clock->from)
                           ? &clock->before
                           : &clock->after,
                         ns);
}
