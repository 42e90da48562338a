/// @file core/time/tempo_clock.h Ticks and nanoseconds where the tempo may
/// change, and time may stand still.

#ifndef CORE_TIME_TEMPO_CLOCK_H
#define CORE_TIME_TEMPO_CLOCK_H

#include "core/tick.h"
#include "core/time/beat_clock.h"

#include <stdint.h>

/// A clock before a tick and one from it on, made by tempo_clock_at(). What lay
/// before the change before the last is forgotten.
typedef struct {
  Tick      from;
  BeatClock before;
  BeatClock after;
} TempoClock;

/// Lay tick 0 on a moment; as beat_clock_at().
TempoClock
tempo_clock_at(int64_t origin_ns, double tempo_bpm);

/// Go on at another tempo from a tick on, which is no earlier than that of the
/// change before.
void
tempo_clock_change(TempoClock* clock, Tick from, double tempo_bpm);

/// Let everything be later by so much.
void
tempo_clock_delay(TempoClock* clock, int64_t ns);

/// Return when a tick begins.
int64_t
tempo_clock_ns(const TempoClock* clock, Tick tick);

/// Return the tick that a moment lies in.
Tick
tempo_clock_tick(const TempoClock* clock, int64_t ns);

#endif // CORE_TIME_TEMPO_CLOCK_H
