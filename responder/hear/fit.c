#include "responder/hear/fit.h"

#include <math.h>

/// How far a phrase may be from what is usual. Tuned with the costs of a
/// reading.
static const struct {
  double lag_sd_ms;    ///< Of lateness between phrases
  double ratio_log_sd; ///< Of swing ratios between phrases
  double surprise;     ///< Squared sds from which the usual pulls half as hard
  double usual_notes;  ///< How many notes' worth of trust has the usual spread
  double least_ms;     ///< Smallest spread taken
} USUAL = {6, 0.15, 4, 36, 4};

/// Sums over the deviations of one kind of onset.
typedef struct {
  double n;
  double sum;
  double squares;
} Moments;

static void
moments_add(Moments* const moments, const double value)
{
  moments->n += 1;
  moments->sum += value;
  moments->squares += value * value;
}

/// The sum of squares about a value.
static double
squares_about(const Moments* const moments, const double value)
{
  return moments->squares - 2 * value * moments->sum +
         moments->n * value * value;
}

/// A mean pulled toward what is usual, as strongly as it is known to be so;
/// less and less if it is far from it.
static double
pulled_mean(const double sum,
            const double n,
            const double spread,
            const double usual,
            const double usual_sd)
{
  if (n <= 0) {
    return usual;
  }
  const double away = (sum / n - usual) / usual_sd;
  const double room = 1 + spread * spread / (usual_sd * usual_sd) / n;
  const double pull = spread * spread / (usual_sd * usual_sd) /
                      (1 + away * away / room / USUAL.surprise);
  return (sum + pull * usual) / (n + pull);
}

void
fit_reading(Reading* const        reading,
            const HearWork* const work,
            const GridFit         usual)
{
  Moments plain = {0, 0, 0};
  Moments swung = {0, 0, 0}; // The swung off-beats' own places
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    const GridBeat* const cell = &work->grid[work->beats[k]];
    const unsigned        g    = cell->chosen;
    const unsigned        slot = work->slots[k];
    const double          time = (double)(work->times[k] - cell->line);
    if (slot == 1 && reading->divisions[g].grid == GRID_SWUNG_EIGHTH) {
      moments_add(&swung, time);
    } else {
      const unsigned n = reading_slots(reading, g, cell->n_held);
      moments_add(&plain, time - (double)slot / n);
    }
  }

  const double beat_ms   = reading->beat_ms;
  const double spread    = (double)reading->spread;
  const double lag       = pulled_mean(plain.sum,
                                 plain.n,
                                 spread,
                                 usual.lag_ms / beat_ms,
                                 USUAL.lag_sd_ms / beat_ms);
  const double usual_off = reading_off_beat(usual.ratio);
  const double off_sd    = usual_off * (1 - usual_off) * USUAL.ratio_log_sd;
  const double off =
    pulled_mean(swung.sum - swung.n * lag, swung.n, spread, usual_off, off_sd);

  const double trust        = USUAL.usual_notes;
  const double usual_spread = usual.spread_ms / beat_ms;
  const double variance =
    (squares_about(&plain, lag) + squares_about(&swung, lag + off) +
     trust * usual_spread * usual_spread) /
    (plain.n + swung.n + trust);
  reading->lag = (float)lag;
  reading_swing(reading, (float)off);
  reading->spread = (float)fmax(sqrt(variance), USUAL.least_ms / beat_ms);
}

float
fit_cost(const Reading* const reading,
         const unsigned       n_onsets,
         const GridFit        usual)
{
  const double lag_ms = (double)reading->lag * reading->beat_ms;
  const double late   = (lag_ms - usual.lag_ms) / USUAL.lag_sd_ms;
  const double off    = (double)reading->off_beat;
  const double swing  = log(off / (1 - off) / usual.ratio) / USUAL.ratio_log_sd;
  const double tail   = USUAL.surprise;
  return (float)(0.5 * tail * log1p(late * late / tail) +
                 0.5 * tail * log1p(swing * swing / tail)) +
         (float)n_onsets * logf(reading->spread);
}
