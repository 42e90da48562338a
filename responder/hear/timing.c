#include "responder/hear/timing.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

static const struct {
  double least;
  double most;
} RATIO = {0.25, 4.0};

/// A mean in the making.
typedef struct {
  double sum;
  double n;
} Mean;

static double
mean_or(const Mean mean, const double otherwise)
{
  return mean.n > 0 ? mean.sum / mean.n : otherwise;
}

/// Return the next note of the melody from `i` on, `n_notes` if there is none.
static unsigned
melody_from(const Phrase* const phrase, unsigned i)
{
  while (i < phrase->n_notes && phrase->notes[i].is_ornament) {
    ++i;
  }
  return i;
}

static Tick
place_in_beat(const Tick tick, const Tick beat)
{
  return tick - tick_floor(tick, beat);
}

static bool
is_swung_off_beat(const HeardNote* const heard, const Tick beat)
{
  return heard->grid == GRID_SWUNG_EIGHTH &&
         place_in_beat(heard->grid_tick, beat) == beat / 2;
}

static double
deviation(const HeardNote* const heard)
{
  return (double)(heard->note.tick - heard->grid_tick);
}

/// Mean deviation of the notes on the beat, or of all but swung off-beats.
static double
lag_of(const Phrase* const phrase, const Tick beat)
{
  Mean on  = {0, 0};
  Mean any = {0, 0};
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament && !is_swung_off_beat(heard, beat)) {
      const bool is_on = place_in_beat(heard->grid_tick, beat) == 0;
      on.sum += is_on ? deviation(heard) : 0;
      on.n += is_on;
      any.sum += deviation(heard);
      any.n += 1;
    }
  }
  return mean_or(on, mean_or(any, 0));
}

/// How far behind the half beat the swung off-beats stand, beyond the lag.
static double
swing_of(const Phrase* const phrase, const Tick beat, const double lag)
{
  Mean mean = {0, 0};
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament && is_swung_off_beat(heard, beat)) {
      mean.sum += deviation(heard) - lag;
      mean.n += 1;
    }
  }
  return mean_or(mean, 0);
}

static void
spread_over(Timing* const       timing,
            const Phrase* const phrase,
            const Tick          beat,
            const double        swing)
{
  Mean mean    = {0, 0};
  Mean squares = {0, 0};
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament) {
      const double off =
        deviation(heard) - (is_swung_off_beat(heard, beat) ? swing : 0);
      mean.sum += off;
      mean.n += 1;
      squares.sum += off * off;
      squares.n += 1;
    }
  }
  timing->offset        = mean_or(mean, 0);
  const double variance = mean_or(squares, 0) - timing->offset * timing->offset;
  timing->spread        = variance > 0 ? sqrt(variance) : 0;
}

/// The ratio of a beat that begins with note `on`, 0 if it tells none.
static double
beat_ratio(const Phrase* const phrase,
           const unsigned      on,
           const Tick          beat,
           const double        lag)
{
  const HeardNote* const first = &phrase->notes[on];
  const unsigned         off   = melody_from(phrase, on + 1);
  if (place_in_beat(first->grid_tick, beat) != 0 || off == phrase->n_notes ||
      (first->grid != GRID_EIGHTH && first->grid != GRID_SWUNG_EIGHTH)) {
    return 0;
  }
  const HeardNote* const second = &phrase->notes[off];
  const Tick             line   = first->grid_tick + beat;
  if (second->grid_tick != first->grid_tick + beat / 2) {
    return 0;
  }
  const unsigned after = melody_from(phrase, off + 1);
  double         end   = (double)line + lag;
  if (after < phrase->n_notes) {
    const HeardNote* const third = &phrase->notes[after];
    end = third->grid_tick == line ? (double)third->note.tick : end;
  }
  const double long_part  = (double)(second->note.tick - first->note.tick);
  const double short_part = end - (double)second->note.tick;
  return short_part > 0 ? long_part / short_part : 0;
}

/// Keep a list sorted while it grows.
static void
insert(double* const list, const unsigned n, const double value)
{
  unsigned at = n;
  while (at > 0 && list[at - 1] > value) {
    list[at] = list[at - 1];
    --at;
  }
  list[at] = value;
}

static double
median_ratio(const Phrase* const phrase, const Tick beat, const double lag)
{
  double   ratios[PHRASE_CAPACITY];
  unsigned n = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const double ratio =
      phrase->notes[i].is_ornament ? 0 : beat_ratio(phrase, i, beat, lag);
    if (ratio >= RATIO.least && ratio <= RATIO.most) {
      insert(ratios, n++, ratio);
    }
  }
  return n == 0       ? 0
         : n % 2 == 1 ? ratios[n / 2]
                      : (ratios[n / 2 - 1] + ratios[n / 2]) / 2;
}

Timing
timing_measure(const Phrase* const phrase, const Meter meter)
{
  const Tick   beat   = meter_beat_ticks(meter);
  const double lag    = lag_of(phrase, beat);
  Timing       timing = {.lag = lag};
  spread_over(&timing, phrase, beat, swing_of(phrase, beat, lag));
  if (!meter_is_compound(meter)) {
    timing.swing_ratio = median_ratio(phrase, beat, lag);
  }
  return timing;
}
