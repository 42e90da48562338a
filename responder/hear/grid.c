#include "responder/hear/grid.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdbool.h>

enum {
  SLOT_CAPACITY = 12, ///< Places in the finest division but the last
  N_STARTS      = 3,  ///< Swing ratios to begin from
  N_ROUNDS      = 3,  ///< Readings from each, refitted in between
};

/// A way to divide a beat.
typedef struct {
  uint8_t n_slots; ///< 0: as many as there are notes
  uint8_t grid;    ///< The Grid that it counts as
  uint8_t fewest;  ///< Notes that a beat must hold before it is tried
  float   cost;    ///< Of taking it up, in nats
} Division;

static const Division simple_divisions[GRID_DIVISIONS] = {
  {1, GRID_BEAT, 1, 0.6F},
  {2, GRID_EIGHTH, 1, 0.7F},
  {2, GRID_SWUNG_EIGHTH, 1, 1},
  {3, GRID_TRIPLET, 1, 2},
  {4, GRID_SIXTEENTH, 1, 2},
  {5, GRID_SIXTEENTH, 4, 4},
  {6, GRID_SIXTEENTH, 3, 3.5F},
  {7, GRID_SIXTEENTH, 5, 5},
  {8, GRID_SIXTEENTH, 4, 4},
  {12, GRID_SIXTEENTH, 7, 6},
  {0, GRID_SIXTEENTH, 9, 12},
};

static const Division compound_divisions[GRID_DIVISIONS] = {
  {1, GRID_BEAT, 1, 0.6F},
  {3, GRID_EIGHTH, 1, 0.7F},
  {2, GRID_TRIPLET, 1, 3},
  {6, GRID_SIXTEENTH, 1, 1.5F},
  {4, GRID_TRIPLET, 3, 3.5F},
  {9, GRID_TRIPLET, 4, 4},
  {12, GRID_SIXTEENTH, 5, 5},
  {8, GRID_SIXTEENTH, 6, 6},
  {5, GRID_SIXTEENTH, 5, 6},
  {7, GRID_SIXTEENTH, 7, 6},
  {0, GRID_SIXTEENTH, 12, 12},
};

/// What a reading costs besides its divisions, in nats; times are shares of
/// the beat unless a name says otherwise.
static const struct {
  float early;        ///< How long before its beat a note may sound
  float late;         ///< How long after the beat a note before it may sound
  float change;       ///< Leaving the division of the beat before
  float far_off;      ///< Deviations beyond, in spreads, count in proportion
  float lag_sd_ms;    ///< Of lateness between solos
  float ratio_log_sd; ///< Of swing ratios between phrases
  float usual_notes;  ///< How many notes' worth of trust has the usual spread
  float least_spread; ///< Smallest spread taken, ms
  float starts[N_STARTS];
} COST = {
  .early        = 0.35F,
  .late         = 0.25F,
  .change       = 1.0F,
  .far_off      = 3.0F,
  .lag_sd_ms    = 16.0F,
  .ratio_log_sd = 0.35F,
  .usual_notes  = 8.0F,
  .least_spread = 4.0F,
  .starts       = {1.4F, 2.0F, 2.8F},
};

/// A reading in progress; times in beats.
typedef struct {
  const Division* divisions;
  double          beat_ticks;
  float           lag;
  float           spread;
  float           off_beat; ///< Where swung off-beats sound
} Reading;

static float
off_beat_of(const double ratio)
{
  return (float)(ratio / (1.0 + ratio));
}

static double
floor_to(const double tick, const double beat)
{
  return floor(tick / beat) * beat;
}

/// List the onsets to be placed, without the ornaments.
static void
list_onsets(HearWork* const work, const Phrase* const phrase)
{
  work->n_onsets = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (!phrase->notes[i].is_ornament) {
      work->notes[work->n_onsets++] = (uint16_t)i;
    }
  }
}

static void
add_cell(HearWork* const work, const Tick beat_tick)
{
  const unsigned n = work->n_cells;
  if (n == 0 || work->grid[n - 1].beat_tick < beat_tick) {
    assert(n < GRID_CELL_CAPACITY);
    work->grid[work->n_cells++].beat_tick = beat_tick;
  }
}

/// List the beats that the onsets may belong to: a note near a beat line has
/// two of them.
static void
list_cells(HearWork* const     work,
           const Phrase* const phrase,
           const Tick          beat_ticks)
{
  const double beat = (double)beat_ticks;
  work->n_cells     = 0;
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    const Tick   tick  = phrase->notes[work->notes[k]].note.tick;
    const Tick   line  = (Tick)floor_to((double)tick, beat);
    const double share = (double)(tick - line) / beat;
    if (share < (double)COST.late) {
      add_cell(work, line - beat_ticks);
    }
    add_cell(work, line);
    if (share >= 1.0 - (double)COST.early) {
      add_cell(work, line + beat_ticks);
    }
  }
}

/// Find how the notes may be parted at the end of each beat.
static void
list_splits(HearWork* const     work,
            const Phrase* const phrase,
            const Tick          beat_ticks)
{
  const Tick early = (Tick)(COST.early * (float)beat_ticks);
  const Tick late  = (Tick)(COST.late * (float)beat_ticks);
  unsigned   low   = 0; // Onsets surely before the line
  unsigned   line  = 0; // Onsets before the line
  unsigned   high  = 0; // Onsets possibly before the line
  for (unsigned c = 0; c < work->n_cells; ++c) {
    GridCell* const cell = &work->grid[c];
    const Tick      end  = cell->beat_tick + beat_ticks;
#define ADVANCE(index, limit)                                                  \
  while ((index) < work->n_onsets &&                                           \
         phrase->notes[work->notes[index]].note.tick < (limit)) {              \
    ++(index);                                                                 \
  }
    ADVANCE(low, end - early)
    ADVANCE(line, end)
    ADVANCE(high, end + late)
#undef ADVANCE
    if (c + 1 == work->n_cells) {
      low = high = line = work->n_onsets;
    }
    const unsigned most  = high < line + 1 ? high : line + 1;
    const unsigned least = most + 1 > low + GRID_SPLIT_CAPACITY
                             ? most + 1 - GRID_SPLIT_CAPACITY
                             : low;
    cell->first_split    = (uint16_t)least;
    cell->n_splits       = (uint8_t)(most - least + 1);
  }
}

/// Natural logarithm of the ways to choose `k` of `n` places.
static float
log_choices(const unsigned n, const unsigned k)
{
  float ways = 1;
  for (unsigned i = 0; i < k; ++i) {
    ways *= (float)(n - i) / (float)(i + 1);
  }
  return logf(ways);
}

static float
slot_place(const Reading* const  reading,
           const Division* const division,
           const unsigned        n_slots,
           const unsigned        slot)
{
  if (division->grid == GRID_SWUNG_EIGHTH && slot == 1) {
    return reading->off_beat;
  }
  return (float)slot / (float)n_slots;
}

/// The cost of a deviation: squared, and in proportion when far off.
static float
deviation_cost(const Reading* const reading, const float deviation)
{
  const float spreads = fabsf(deviation) / reading->spread;
  return spreads < COST.far_off
           ? 0.5F * spreads * spreads
           : COST.far_off * (spreads - 0.5F * COST.far_off);
}

/// Some onsets that a beat is to hold.
typedef struct {
  unsigned     n;
  const float* times; ///< In beats from the beat's line
} Onsets;

/// Place onsets one to one on as many slots.
static float
place_evenly(const Reading* const reading,
             const Onsets         onsets,
             uint8_t* const       slots)
{
  float cost = 0;
  for (unsigned k = 0; k < onsets.n; ++k) {
    const float place = (float)k / (float)onsets.n;
    cost += deviation_cost(reading, onsets.times[k] - reading->lag - place);
    if (slots) {
      slots[k] = (uint8_t)k;
    }
  }
  return cost;
}

/// Place onsets on rising slots of a division at the least cost; FLT_MAX if
/// they do not fit. `slots` may be NULL.
static float
place(const Reading* const  reading,
      const Division* const division,
      const Onsets          onsets,
      uint8_t* const        slots)
{
  const unsigned n = division->n_slots;
  if (onsets.n < division->fewest || (n > 0 && onsets.n > n)) {
    return FLT_MAX;
  }
  if (n == 0) {
    return place_evenly(reading, onsets, slots);
  }

  float   best[SLOT_CAPACITY];
  uint8_t from[SLOT_CAPACITY][SLOT_CAPACITY];
  for (unsigned s = 0; s < n; ++s) {
    best[s] = 0;
  }
  for (unsigned k = 0; k < onsets.n; ++k) {
    float   least   = k == 0 ? 0.0F : FLT_MAX;
    uint8_t least_s = 0;
    for (unsigned s = 0; s < n; ++s) {
      const float before = best[s];
      const float off =
        onsets.times[k] - reading->lag - slot_place(reading, division, n, s);
      best[s] =
        least == FLT_MAX ? FLT_MAX : least + deviation_cost(reading, off);
      from[k][s] = least_s;
      if (k > 0 && before < least) {
        least   = before;
        least_s = (uint8_t)s;
      }
    }
  }

  unsigned last = 0;
  for (unsigned s = 1; s < n; ++s) {
    last = best[s] < best[last] ? s : last;
  }
  const float cost = best[last] + log_choices(n, onsets.n);
  for (unsigned k = onsets.n; slots && k > 0; --k) {
    slots[k - 1] = (uint8_t)last;
    last         = from[k - 1][last];
  }
  return cost;
}

/// The cheapest way to have come to a split, for each division.
typedef struct {
  float   costs[GRID_DIVISIONS];
  uint8_t came[GRID_DIVISIONS];
  float   least;
  uint8_t least_came;
} Arrival;

static Arrival
arrive(const HearWork* const work, const unsigned c, const unsigned n_before)
{
  Arrival arrival = {.least = FLT_MAX};
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    arrival.costs[g] = FLT_MAX;
  }
  if (c == 0) {
    arrival.least = n_before == 0 ? 0.0F : FLT_MAX;
    return arrival;
  }
  const GridCell* const before = &work->grid[c - 1];
  if (n_before < before->first_split ||
      n_before >= before->first_split + (unsigned)before->n_splits) {
    return arrival;
  }
  const unsigned split = n_before - before->first_split;
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    arrival.costs[g] = before->costs[split][g];
    arrival.came[g]  = (uint8_t)(split * GRID_DIVISIONS + g);
    if (arrival.costs[g] < arrival.least) {
      arrival.least      = arrival.costs[g];
      arrival.least_came = arrival.came[g];
    }
  }
  return arrival;
}

/// Offer a way into one split and division of a cell.
static void
offer(GridCell* const cell,
      const unsigned  split,
      const unsigned  g,
      const float     cost,
      const uint8_t   came)
{
  if (cost < cell->costs[split][g]) {
    cell->costs[split][g] = cost;
    cell->came[split][g]  = came;
  }
}

/// Try every division for a beat that holds certain onsets.
static void
extend(GridCell* const      cell,
       const unsigned       split,
       const Reading* const reading,
       const Arrival* const arrival,
       const Onsets         onsets)
{
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    if (onsets.n == 0) {
      offer(cell, split, g, arrival->costs[g], arrival->came[g]);
      continue;
    }
    const Division* const division = &reading->divisions[g];
    const float           cost     = place(reading, division, onsets, NULL);
    if (cost == FLT_MAX) {
      continue;
    }
    const float taken = cost + division->cost + COST.change;
    offer(cell, split, g, arrival->costs[g] + cost, arrival->came[g]);
    offer(cell, split, g, arrival->least + taken, arrival->least_came);
  }
}

/// Times of onsets from a beat's line on.
static Onsets
onsets_from(const HearWork* const work,
            const Phrase* const   phrase,
            const Reading* const  reading,
            const unsigned        c,
            const unsigned        first,
            const unsigned        end,
            float                 times[PHRASE_CAPACITY])
{
  for (unsigned k = first; k < end; ++k) {
    const Tick tick = phrase->notes[work->notes[k]].note.tick;
    times[k - first] =
      (float)((double)(tick - work->grid[c].beat_tick) / reading->beat_ticks);
  }
  return (Onsets){end - first, times};
}

static void
fill_cell(HearWork* const      work,
          const Phrase* const  phrase,
          const Reading* const reading,
          const unsigned       c)
{
  GridCell* const cell  = &work->grid[c];
  const unsigned  first = c == 0 ? 0 : work->grid[c - 1].first_split;
  const unsigned  n     = c == 0 ? 1 : work->grid[c - 1].n_splits;
  for (unsigned split = 0; split < cell->n_splits; ++split) {
    for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
      cell->costs[split][g] = FLT_MAX;
    }
  }
  for (unsigned before = first; before < first + n; ++before) {
    const Arrival arrival = arrive(work, c, before);
    for (unsigned split = 0; split < cell->n_splits; ++split) {
      const unsigned end = cell->first_split + split;
      if (end >= before && arrival.least < FLT_MAX) {
        float        times[PHRASE_CAPACITY];
        const Onsets onsets =
          onsets_from(work, phrase, reading, c, before, end, times);
        extend(cell, split, reading, &arrival, onsets);
      }
    }
  }
}

/// Read the phrase once; return the cost of the best reading.
static float
read_once(HearWork* const      work,
          const Phrase* const  phrase,
          const Reading* const reading)
{
  for (unsigned c = 0; c < work->n_cells; ++c) {
    fill_cell(work, phrase, reading, c);
  }
  const GridCell* const last  = &work->grid[work->n_cells - 1];
  float                 least = FLT_MAX;
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    least = fminf(least, last->costs[last->n_splits - 1][g]);
  }
  return least;
}

/// Follow the best reading back; write each onset's cell and slot.
static void
trace(HearWork* const      work,
      const Phrase* const  phrase,
      const Reading* const reading)
{
  const GridCell* const last  = &work->grid[work->n_cells - 1];
  unsigned              split = last->n_splits - 1U;
  unsigned              g     = 0;
  for (unsigned i = 1; i < GRID_DIVISIONS; ++i) {
    g = last->costs[split][i] < last->costs[split][g] ? i : g;
  }
  for (unsigned c = work->n_cells; c > 0; --c) {
    const GridCell* const cell         = &work->grid[c - 1];
    const unsigned        came         = cell->came[split][g];
    const unsigned        end          = cell->first_split + split;
    const unsigned        before_split = came / GRID_DIVISIONS;
    const unsigned        begin =
      c == 1 ? 0 : work->grid[c - 2].first_split + before_split;
    work->chosen[c - 1] = (uint8_t)g;
    if (end > begin) {
      float        times[PHRASE_CAPACITY];
      const Onsets onsets =
        onsets_from(work, phrase, reading, c - 1, begin, end, times);
      (void)place(reading, &reading->divisions[g], onsets, &work->slots[begin]);
      for (unsigned k = begin; k < end; ++k) {
        work->cells[k]  = (uint16_t)(c - 1);
        work->counts[k] = (uint16_t)(end - begin);
      }
    }
    split = before_split;
    g     = came % GRID_DIVISIONS;
  }
}

static unsigned
slots_of(const HearWork* const work,
         const Division* const division,
         const unsigned        k)
{
  return division->n_slots > 0 ? division->n_slots : work->counts[k];
}

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

/// Find lag, spread and ratio anew from the reading found.
static Reading
refit(const HearWork* const work,
      const Phrase* const   phrase,
      const Reading         reading,
      const double          beat_ms,
      const GridFit         usual)
{
  Moments plain = {0, 0, 0};
  Moments swung = {0, 0, 0}; // Places of the swung off-beats themselves
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    const unsigned        c        = work->cells[k];
    const Division* const division = &reading.divisions[work->chosen[c]];
    const Tick            tick     = phrase->notes[work->notes[k]].note.tick;
    const double          time =
      (double)(tick - work->grid[c].beat_tick) / reading.beat_ticks;
    const unsigned slot = work->slots[k];
    if (division->grid == GRID_SWUNG_EIGHTH && slot == 1) {
      moments_add(&swung, time);
    } else {
      const float place = (float)slot / (float)slots_of(work, division, k);
      moments_add(&plain, time - (double)place);
    }
  }

  Reading      found    = reading;
  const double spread   = (double)reading.spread;
  const double lag_sd   = (double)COST.lag_sd_ms / beat_ms;
  const double lag_pull = spread * spread / (lag_sd * lag_sd);
  const double lag =
    (plain.sum + lag_pull * usual.lag_ms / beat_ms) / (plain.n + lag_pull);
  const double off_usual = (double)off_beat_of(usual.ratio);
  const double off_sd    = 0.25 * (double)COST.ratio_log_sd;
  const double off_pull  = spread * spread / (off_sd * off_sd);
  const double off =
    (swung.sum - swung.n * lag + off_pull * off_usual) / (swung.n + off_pull);
  const double usual_spread = usual.spread_ms / beat_ms;
  const double squares =
    plain.squares - 2 * lag * plain.sum + plain.n * lag * lag + swung.squares -
    2 * (lag + off) * swung.sum + swung.n * (lag + off) * (lag + off);
  const double trust    = (double)COST.usual_notes;
  const double variance = (squares + trust * usual_spread * usual_spread) /
                          (plain.n + swung.n + trust);
  found.lag      = (float)lag;
  found.off_beat = (float)fmin(fmax(off, 0.4), 0.8);
  found.spread =
    (float)fmax(sqrt(variance), (double)COST.least_spread / beat_ms);
  return found;
}

/// What lag, ratio and spread cost by themselves.
static float
fit_cost(const HearWork* const work,
         const Reading* const  reading,
         const double          beat_ms,
         const GridFit         usual)
{
  const double lag =
    ((double)reading->lag * beat_ms - usual.lag_ms) / (double)COST.lag_sd_ms;
  const double ratio =
    (double)reading->off_beat / (1 - (double)reading->off_beat);
  const double swing = log(ratio / usual.ratio) / (double)COST.ratio_log_sd;
  return (float)(0.5 * lag * lag + 0.5 * swing * swing) +
         (float)work->n_onsets * logf(reading->spread);
}

static Reading
read_best(HearWork* const     work,
          const Phrase* const phrase,
          const Reading       first,
          const double        beat_ms,
          const GridFit       usual)
{
  Reading best      = first;
  float   best_cost = FLT_MAX;
  for (unsigned start = 0; start < N_STARTS; ++start) {
    Reading reading  = first;
    reading.off_beat = off_beat_of((double)COST.starts[start]);
    for (unsigned round = 0; round < N_ROUNDS; ++round) {
      const float cost = read_once(work, phrase, &reading) +
                         fit_cost(work, &reading, beat_ms, usual);
      if (cost < best_cost) {
        best_cost = cost;
        best      = reading;
      }
      trace(work, phrase, &reading);
      reading = refit(work, phrase, reading, beat_ms, usual);
    }
  }
  (void)read_once(work, phrase, &best);
  trace(work, phrase, &best);
  return best;
}

static void
write_places(const HearWork* const work,
             Phrase* const         phrase,
             const Reading* const  reading)
{
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    HeardNote* const      heard    = &phrase->notes[work->notes[k]];
    const unsigned        c        = work->cells[k];
    const Division* const division = &reading->divisions[work->chosen[c]];
    const unsigned        n_slots  = slots_of(work, division, k);
    const double          share    = (double)work->slots[k] / (double)n_slots;
    heard->grid_tick =
      work->grid[c].beat_tick + (Tick)lround(share * reading->beat_ticks);
    heard->grid = division->grid;
  }
}

GridFit
grid_find(Phrase* const   phrase,
          HearWork* const work,
          const Meter     meter,
          const double    beat_ms,
          const GridFit   usual)
{
  list_onsets(work, phrase);
  if (work->n_onsets == 0) {
    return usual;
  }
  const Tick beat_ticks = meter_beat_ticks(meter);
  list_cells(work, phrase, beat_ticks);
  list_splits(work, phrase, beat_ticks);
  const Reading first = {
    .divisions =
      meter_is_compound(meter) ? compound_divisions : simple_divisions,
    .beat_ticks = (double)beat_ticks,
    .lag        = (float)(usual.lag_ms / beat_ms),
    .spread     = (float)(usual.spread_ms / beat_ms),
    .off_beat   = off_beat_of(usual.ratio),
  };
  const Reading best = read_best(work, phrase, first, beat_ms, usual);
  write_places(work, phrase, &best);
  return (GridFit){
    .lag_ms    = (double)best.lag * beat_ms,
    .spread_ms = (double)best.spread * beat_ms,
    .ratio     = (double)best.off_beat / (1 - (double)best.off_beat),
  };
}

/// The grid of a beat from the places that its notes stand on, straight.
static Grid
grid_of_places(const Phrase* const phrase,
               const unsigned      first,
               const unsigned      end,
               const Tick          beat,
               const bool          is_compound)
{
  Grid finest = GRID_BEAT;
  for (unsigned i = first; i < end; ++i) {
    const Tick off  = phrase->notes[i].grid_tick % beat;
    Grid       grid = GRID_SIXTEENTH;
    if (off == 0) {
      grid = GRID_BEAT;
    } else if (off % TICKS_PER_EIGHTH == 0) {
      grid = GRID_EIGHTH;
    } else if (is_compound ? off % (beat / 2) == 0 : off % (beat / 3) == 0) {
      grid = GRID_TRIPLET;
    }
    finest = grid > finest ? grid : finest;
  }
  return finest;
}

/// Mean share of the beat at which notes written on the half beat sound.
static double
half_beat_share(const Phrase* const phrase, const Tick beat)
{
  double   off   = 0;
  double   on    = 0;
  unsigned n_off = 0;
  unsigned n_on  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    const Tick             late  = heard->note.tick - heard->grid_tick;
    if (heard->is_ornament) {
      continue;
    }
    if (heard->grid_tick % beat == 0) {
      on += (double)late;
      ++n_on;
    } else if (heard->grid == GRID_EIGHTH) {
      off += (double)late;
      ++n_off;
    }
  }
  const double lag = n_on > 0 ? on / n_on : 0;
  return 0.5 + (n_off > 0 ? (off / n_off - lag) / (double)beat : 0);
}

void
grid_name_beats(Phrase* const phrase, const Meter meter)
{
  const Tick beat        = meter_beat_ticks(meter);
  const bool is_compound = meter_is_compound(meter);
  unsigned   first       = 0;
  while (first < phrase->n_notes) {
    const double line =
      floor_to((double)phrase->notes[first].grid_tick, (double)beat);
    unsigned end = first + 1;
    while (end < phrase->n_notes &&
           floor_to((double)phrase->notes[end].grid_tick, (double)beat) ==
             line) {
      ++end;
    }
    const Grid grid = grid_of_places(phrase, first, end, beat, is_compound);
    for (; first < end; ++first) {
      phrase->notes[first].grid = (uint8_t)grid;
    }
  }
  if (is_compound || half_beat_share(phrase, beat) < off_beat_of(1.2)) {
    return;
  }
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (phrase->notes[i].grid == GRID_EIGHTH) {
      phrase->notes[i].grid = GRID_SWUNG_EIGHTH;
    }
  }
}
