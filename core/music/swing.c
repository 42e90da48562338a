#include "core/music/swing.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

typedef struct {
  double tempo_bpm;
  double ratio;
} SwingPoint;

// Medians over 357 solos by band of tempo, each at the middle of its band
// (computed from the Weimar Jazz Database).
static const SwingPoint soloists[] = {
  {85.0, 1.3},
  {115.0, 1.55},
  {145.0, 1.7},
  {180.0, 1.55},
  {220.0, 1.45},
  {260.0, 1.3},
  {300.0, 1.2},
};

double
swing_ratio_by_tempo(const double tempo_bpm)
{
  const size_t n = sizeof(soloists) / sizeof(*soloists);
  if (tempo_bpm <= soloists[0].tempo_bpm) {
    return soloists[0].ratio;
  }
  for (size_t i = 1; i < n; ++i) {
    const SwingPoint a = soloists[i - 1];
    const SwingPoint b = soloists[i];
    if (tempo_bpm < b.tempo_bpm) {
      const double share =
        (tempo_bpm - a.tempo_bpm) / (b.tempo_bpm - a.tempo_bpm);
      return a.ratio + share * (b.ratio - a.ratio);
    }
  }
  return soloists[n - 1].ratio;
}

Tick
swing_place(const Meter meter, const Tick grid_tick, const double ratio)
{
  assert(ratio >= 0.25 && ratio <= 4.0);
  const Tick beat   = meter_beat_ticks(meter);
  const Tick within = grid_tick - tick_floor(grid_tick, beat);
  if (meter_is_compound(meter) || within % (beat / 4) != 0) {
    return grid_tick;
  }

  const double half = (double)beat / 2.0;
  const double off  = (double)beat * ratio / (1.0 + ratio);
  const double stretch =
    within <= beat / 2
      ? (double)within * off / half
      : off + ((double)within - half) * ((double)beat - off) / half;
  return grid_tick - within + (Tick)lround(stretch);
}

static bool
has_sixteenth(const Tick        from,
              const Tick        beat,
              const Tick* const onsets,
              const size_t      n_onsets)
{
  for (size_t i = 0; i < n_onsets; ++i) {
    const Tick within = onsets[i] - from;
    if (within == beat / 4 || within == beat * 3 / 4) {
      return true;
    }
  }
  return false;
}

Tick
swing_place_in(const Meter       meter,
               const Tick        grid_tick,
               const double      ratio,
               const Tick* const onsets,
               const size_t      n_onsets)
{
  const Tick beat = meter_beat_ticks(meter);
  return has_sixteenth(tick_floor(grid_tick, beat), beat, onsets, n_onsets)
           ? grid_tick
           : swing_place(meter, grid_tick, ratio);
}
