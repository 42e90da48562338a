#include "responder/hear/reading.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>

// Rising by the fewest onsets
static const Division simple_divisions[GRID_DIVISIONS] = {
  {2, GRID_EIGHTH, 1, NULL},
  {2, GRID_SWUNG_EIGHTH, 1, NULL},
  {3, GRID_TRIPLET, 1, &figures_triplets},
  {4, GRID_SIXTEENTH, 1, &figures_sixteenths},
  {6, GRID_SIXTEENTH, 3, NULL},
  {5, GRID_SIXTEENTH, 3, NULL},
  {8, GRID_SIXTEENTH, 4, NULL},
  {7, GRID_SIXTEENTH, 4, NULL},
  {10, GRID_SIXTEENTH, 6, NULL},
  {12, GRID_SIXTEENTH, 7, NULL},
  {0, GRID_SIXTEENTH, 9, NULL},
};

static const Division compound_divisions[GRID_DIVISIONS] = {
  {3, GRID_EIGHTH, 1, NULL},
  {2, GRID_TRIPLET, 1, NULL},
  {6, GRID_SIXTEENTH, 1, NULL},
  {4, GRID_TRIPLET, 3, NULL},
  {9, GRID_TRIPLET, 4, NULL},
  {12, GRID_SIXTEENTH, 5, NULL},
  {5, GRID_SIXTEENTH, 5, NULL},
  {8, GRID_SIXTEENTH, 6, NULL},
  {7, GRID_SIXTEENTH, 7, NULL},
  {10, GRID_SIXTEENTH, 8, NULL},
  {0, GRID_SIXTEENTH, 12, NULL},
};

/// What a reading costs, in nats. Tuned on 15 annotated solos and on made-up
/// phrases of known places at spreads of 5-20 ms; checked on 15 other solos.
static const struct {
  float simple[GRID_DIVISIONS];   ///< A beat in each division
  float compound[GRID_DIVISIONS]; ///< ... of a compound meter
  float crowd;      ///< For e times as many slots as are easily played
  float crowd_ms;   ///< The shortest slot that is easily played
  float early_far;  ///< Spreads by which a note on the beat may well be early
  float early_most; ///< The most that being so early costs
  float early_cost; ///< Being earlier
  float late_far;   ///< Spreads by which it may well be late
  float late_cost;  ///< Being later
  float far_off;    ///< Deviations beyond, in spreads, count in proportion
} COST = {
  .simple     = {0.4F, 1.4F, 2, 2.5F, 2.4F, 4.5F, 2.4F, 4, 3.5F, 5, 12},
  .compound   = {0.4F, 2.5F, 2, 4, 3.5F, 3.5F, 5, 4, 5, 5, 12},
  .crowd      = 1.5F,
  .crowd_ms   = 135.0F,
  .early_far  = 2.5F,
  .early_most = 0.1F,
  .early_cost = 8.0F,
  .late_far   = 0.75F,
  .late_cost  = 2.0F,
  .far_off    = 2.6F,
};

/// Off-beats are not taken to stand further to the side.
static const float OFF_BEAT_LEAST = 0.42F;
static const float OFF_BEAT_MOST  = 0.78F;

static float
smaller(const float a, const float b)
{
  return a < b ? a : b;
}

static float
larger(const float a, const float b)
{
  return a > b ? a : b;
}

double
reading_off_beat(const double ratio)
{
  return ratio / (1.0 + ratio);
}

void
reading_swing(Reading* const reading, const float off_beat)
{
  reading->off_beat = smaller(larger(off_beat, OFF_BEAT_LEAST), OFF_BEAT_MOST);
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    if (reading->divisions[g].grid == GRID_SWUNG_EIGHTH) {
      reading->places[g][1] = reading->off_beat;
    }
  }
}

/// The price of a beat: more for slots that pass too fast.
static float
price_of(const float take, const unsigned n_slots, const double beat_ms)
{
  const float slots = larger(1, (float)n_slots);
  const float crowd = logf(COST.crowd_ms * slots / (float)beat_ms);
  return take + COST.crowd * larger(0, crowd);
}

Reading
reading_begin(const Meter              meter,
              const double             beat_ms,
              const Expectation* const expectation)
{
  const Timekeeping usual       = expectation->usual;
  const bool        is_compound = meter_is_compound(meter);
  const double      far_ms      = (double)COST.early_far * usual.spread_ms;
  Reading           reading     = {
                  .divisions = is_compound ? compound_divisions : simple_divisions,
                  .beat_ms   = beat_ms,
                  .lag       = (float)(usual.lag_ms / beat_ms),
                  .spread    = (float)(usual.spread_ms / beat_ms),
                  .early = larger(0, (float)((far_ms - usual.lag_ms) / beat_ms)),
                  .far   = (float)(far_ms / beat_ms),
  };
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    const unsigned n    = reading.divisions[g].n_slots;
    const float    take = (is_compound ? COST.compound : COST.simple)[g];
    reading.prices[g]   = price_of(take, n, beat_ms) +
                        expectation->prices[reading.divisions[g].grid];
    for (unsigned s = 0; s < n; ++s) {
      reading.places[g][s] = (float)s / (float)n;
    }
  }
  reading_swing(&reading, (float)reading_off_beat(usual.ratio));
  return reading;
}

void
reading_forbid(Reading* const reading, const Grid grid)
{
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    if (reading->divisions[g].grid == grid) {
      reading->prices[g] = FLT_MAX;
    }
  }
}

unsigned
reading_slots(const Reading* const reading, const unsigned g, const unsigned n)
{
  const unsigned n_slots = reading->divisions[g].n_slots;
  return n_slots > 0 ? n_slots : n;
}

/// Natural logarithm of the ways to choose `k` of `n` places.
static float
log_choices(const unsigned n, const unsigned k)
{
  static const float log_factorials[SLOT_CAPACITY + 1] = {
    0.0F,
    0.0F,
    0.693147F,
    1.791759F,
    3.178054F,
    4.787492F,
    6.579251F,
    8.525161F,
    10.604603F,
    12.801827F,
    15.104413F,
    17.502308F,
    19.987214F,
  };
  return log_factorials[n] - log_factorials[k] - log_factorials[n - k];
}

float
reading_price(const Reading* const reading, const unsigned g, const unsigned n)
{
  const Division* const division = &reading->divisions[g];
  if (n < division->fewest ||
      (division->n_slots > 0 && n > division->n_slots)) {
    return FLT_MAX;
  }
  if (division->figures) {
    return reading->prices[g] + figures_least(division->figures, n);
  }
  return reading->prices[g] +
         (division->n_slots > 0 ? log_choices(division->n_slots, n) : 0);
}

/// The cost of so many spreads off: squared, or in proportion when far off.
static float
deviation_cost(const float spreads)
{
  const float size = fabsf(spreads);
  const float near = smaller(size, COST.far_off);
  return near * (size - 0.5F * near);
}

/// The cost of an onset on the beat: being a little early costs hardly
/// anything, being very early or late more than the deviation.
static float
on_beat_cost(const Reading* const reading, const float time)
{
  const float off  = time - reading->lag;
  float       cost = deviation_cost(off / reading->spread);
  if (time < 0 && time >= -reading->early) {
    cost = smaller(cost, COST.early_most);
  }
  if (time < -reading->early && off < -reading->far) {
    cost += COST.early_cost;
  }
  return off > COST.late_far * reading->spread ? cost + COST.late_cost : cost;
}

/// The least cost of the onsets so far.
typedef struct {
  float   before[SLOT_CAPACITY + 1]; ///< ... if the last stands left of a slot
  uint8_t from[SLOT_CAPACITY][SLOT_CAPACITY + 1]; ///< Where it then stands
  uint8_t last; ///< Where it stands at the least of all
} Placing;

/// What it costs to stand on the slots `first` to `end` but for the beat's own.
static void
price_slots(const Reading* const reading,
            const unsigned       g,
            const float          time,
            const unsigned       first,
            const unsigned       end,
            float* const         costs)
{
  const float        late       = time - reading->lag;
  const float        per_spread = 1 / reading->spread;
  const float* const places     = reading->places[g];
  for (unsigned s = first; s < end; ++s) {
    costs[s] = deviation_cost((late - places[s]) * per_spread);
  }
}

/// Place onset `k` on every slot that leaves room for the others; return the
/// least cost.
static float
place_next(Placing* const       placing,
           const Reading* const reading,
           const unsigned       g,
           const Onsets         onsets,
           const unsigned       k)
{
  const unsigned n_slots = reading->divisions[g].n_slots;
  const unsigned end     = n_slots + k + 1 - onsets.n; // Of the slots for it
  const float    time    = onsets.times[k] - onsets.line;
  float          costs[SLOT_CAPACITY];
  price_slots(reading, g, time, k, end, costs);
  if (k == 0) {
    costs[0] = on_beat_cost(reading, time);
  }

  float   least = FLT_MAX;
  uint8_t last  = 0;
  for (unsigned s = k; s < end; ++s) {
    const float cost    = costs[s] + (k == 0 ? 0.0F : placing->before[s]);
    placing->before[s]  = least;
    placing->from[k][s] = last;
    if (cost < least) {
      least = cost;
      last  = (uint8_t)s;
    }
  }
  placing->before[end]  = least;
  placing->from[k][end] = last;
  placing->last         = last;
  return least;
}

/// The cost of as many slots as onsets.
static float
place_evenly(const Reading* const reading, const Onsets onsets)
{
  float cost = 0;
  for (unsigned k = 0; k < onsets.n; ++k) {
    const float place = (float)k / (float)onsets.n;
    const float time  = onsets.times[k] - onsets.line;
    cost += k == 0
              ? on_beat_cost(reading, time)
              : deviation_cost((time - reading->lag - place) / reading->spread);
  }
  return cost;
}

/// Find the figure for onsets, and what it costs beyond the price of as many.
static unsigned
place_figure(const Reading* const reading,
             const unsigned       g,
             const Onsets         onsets,
             float* const         cost)
{
  const Figures* const figures = reading->divisions[g].figures;
  float                costs[FIGURE_SLOTS][FIGURE_SLOTS];
  for (unsigned k = 0; k < onsets.n; ++k) {
    const float time = onsets.times[k] - onsets.line;
    price_slots(reading, g, time, 0, figures->n_slots, costs[k]);
    costs[k][0] = on_beat_cost(reading, time);
  }
  const unsigned figure = figures_find(figures, onsets.n, costs, cost);
  *cost -= figures_least(figures, onsets.n);
  return figure;
}

float
reading_place(const Reading* const reading,
              const unsigned       g,
              const Onsets         onsets,
              const float          most)
{
  if (reading->divisions[g].n_slots == 0) {
    return place_evenly(reading, onsets);
  }
  if (reading->divisions[g].figures) {
    float cost = 0;
    (void)place_figure(reading, g, onsets, &cost);
    return cost < most ? cost : FLT_MAX;
  }
  Placing placing;
  float   least = 0;
  for (unsigned k = 0; k < onsets.n; ++k) {
    least = place_next(&placing, reading, g, onsets, k);
    if (least >= most) {
      return FLT_MAX;
    }
  }
  return least;
}

/// Write the slots that are filled.
static void
list_slots(unsigned figure, uint8_t* slots)
{
  for (uint8_t s = 0; figure; ++s, figure >>= 1U) {
    if (figure & 1U) {
      *slots++ = s;
    }
  }
}

void
reading_slots_of(const Reading* const reading,
                 const unsigned       g,
                 const Onsets         onsets,
                 uint8_t* const       slots)
{
  if (reading->divisions[g].n_slots == 0) {
    for (unsigned k = 0; k < onsets.n; ++k) {
      slots[k] = (uint8_t)k;
    }
    return;
  }
  if (reading->divisions[g].figures) {
    float cost = 0;
    list_slots(place_figure(reading, g, onsets, &cost), slots);
    return;
  }
  Placing placing;
  for (unsigned k = 0; k < onsets.n; ++k) {
    (void)place_next(&placing, reading, g, onsets, k);
  }
  unsigned last = placing.last;
  for (unsigned k = onsets.n; k > 0; --k) {
    slots[k - 1] = (uint8_t)last;
    last         = k > 1 ? placing.from[k - 2][last] : 0;
  }
}
