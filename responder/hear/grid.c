#include "responder/hear/grid.h"

#include "responder/hear/reading.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdbool.h>

enum {
  N_STARTS = 3, ///< Swing ratios to begin from
  N_LAGS   = 2, ///< Latenesses to begin from besides the usual
};

/// In shorter beats lateness and place cannot be told apart.
static const double LEAST_BEAT_MS  = 300;
static const double LEAST_LATER_MS = 15; // Nearer ones are found by fitting
static const double start_lags_ms[N_LAGS]  = {-50, 50};
static const double start_ratios[N_STARTS] = {1.4, 2.0, 2.8};

/// Off-beats of a smaller ratio count as even.
static const double LEAST_SWING = 1.2;

static Tick
line_before(const Tick tick, const Tick beat)
{
  return tick - ((tick % beat) + beat) % beat;
}

static void
add_cell(HearWork* const work, const Tick tick, const Tick beat)
{
  const unsigned n = work->n_cells;
  if (n == 0 || work->grid[n - 1].tick < tick) {
    assert(n < GRID_CELL_CAPACITY);
    work->grid[n].tick = tick;
    work->grid[n].line = (float)((tick - work->grid[0].tick) / beat);
    ++work->n_cells;
  }
}

/// List the onsets to be placed, without the ornaments, and the beats that they
/// may belong to: a note shortly before a beat line has two of them.
static void
list_onsets(HearWork* const     work,
            const Phrase* const phrase,
            const Tick          beat,
            const Tick          later,
            const Tick          early)
{
  work->n_onsets = 0;
  work->n_cells  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (phrase->notes[i].is_ornament) {
      continue;
    }
    const Tick     tick = phrase->notes[i].note.tick - later;
    const Tick     line = line_before(tick, beat);
    const unsigned k    = work->n_onsets++;
    add_cell(work, line, beat);
    if (tick >= line + beat - early) {
      add_cell(work, line + beat, beat);
    }
    work->notes[k] = (uint16_t)i;
    work->times[k] = (float)(tick - work->grid[0].tick) / (float)beat;
  }
}

/// Find how the onsets may be parted at the end of each beat.
static void
list_splits(HearWork* const work, const float early)
{
  unsigned low  = 0; // Onsets surely before the beat's end
  unsigned high = 0; // Onsets before it
  for (unsigned c = 0; c < work->n_cells; ++c) {
    GridCell* const cell = &work->grid[c];
    const float     end  = cell->line + 1;
    while (low < work->n_onsets && work->times[low] < end - early) {
      ++low;
    }
    while (high < work->n_onsets && work->times[high] < end) {
      ++high;
    }
    if (c + 1 == work->n_cells) {
      low = high = work->n_onsets;
    }
    const unsigned least =
      high >= low + GRID_SPLIT_CAPACITY ? high + 1 - GRID_SPLIT_CAPACITY : low;
    cell->first_split = (uint16_t)least;
    cell->n_splits    = (uint8_t)(high - least + 1);
  }
}

/// The cheapest way to have come to a split, for each division.
typedef struct {
  float   costs[GRID_DIVISIONS];
  uint8_t came[GRID_DIVISIONS];
  float   least;
  uint8_t least_came;
} Arrival;

static Arrival
arrive(const HearWork* const work, const unsigned c, const unsigned split)
{
  Arrival arrival = {.least = c == 0 ? 0.0F : FLT_MAX};
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    arrival.costs[g] = c == 0 ? 0.0F : work->grid[c - 1].costs[split][g];
    arrival.came[g]  = (uint8_t)(split * GRID_DIVISIONS + g);
    if (arrival.costs[g] < arrival.least) {
      arrival.least      = arrival.costs[g];
      arrival.least_came = arrival.came[g];
    }
  }
  return arrival;
}

/// A beat without onsets keeps the division of the one before.
static void
pass_over(GridCell* const cell, const unsigned split, const Arrival* arrival)
{
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    if (arrival->costs[g] < cell->costs[split][g]) {
      cell->costs[split][g] = arrival->costs[g];
      cell->came[split][g]  = arrival->came[g];
    }
  }
}

/// Try the divisions for a beat that holds certain onsets. One that costs more
/// than the best and a change to it cannot be in the best reading.
static void
extend(GridCell* const      cell,
       const unsigned       split,
       const Reading* const reading,
       const Arrival* const arrival,
       const Onsets         onsets)
{
  const float change = reading_change();
  const float taken  = arrival->least + change;
  float       most   = FLT_MAX; // The best and a change
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    const bool  stays = arrival->costs[g] <= taken;
    const float from  = stays ? arrival->costs[g] : taken;
    const float price = reading_price(reading, g, onsets.n);
    if (price == FLT_MAX || from + price >= most) {
      continue;
    }
    const float sum  = from + price;
    const float cost = reading_place(reading, g, onsets, most - sum);
    if (cost == FLT_MAX) {
      continue;
    }
    most = sum + cost + change < most ? sum + cost + change : most;
    if (sum + cost < cell->costs[split][g]) {
      cell->costs[split][g] = sum + cost;
      cell->came[split][g]  = stays ? arrival->came[g] : arrival->least_came;
    }
  }
}

static void
fill_cell(HearWork* const work, const Reading* const reading, const unsigned c)
{
  GridCell* const cell = &work->grid[c];
  for (unsigned split = 0; split < cell->n_splits; ++split) {
    for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
      cell->costs[split][g] = FLT_MAX;
    }
  }
  const unsigned first    = c == 0 ? 0 : work->grid[c - 1].first_split;
  const unsigned n_before = c == 0 ? 1 : work->grid[c - 1].n_splits;
  for (unsigned before = 0; before < n_before; ++before) {
    const Arrival  arrival = arrive(work, c, before);
    const unsigned begin   = first + before;
    for (unsigned split = 0; split < cell->n_splits; ++split) {
      const unsigned end = cell->first_split + split;
      if (end < begin || arrival.least == FLT_MAX) {
        continue;
      }
      if (end == begin) {
        pass_over(cell, split, &arrival);
      } else {
        const Onsets onsets = {end - begin, &work->times[begin], cell->line};
        extend(cell, split, reading, &arrival, onsets);
      }
    }
  }
}

/// Return the division in which the cheapest reading ends.
static unsigned
last_division(const HearWork* const work)
{
  const float* const costs = work->grid[work->n_cells - 1].costs[0];
  unsigned           best  = 0;
  for (unsigned g = 1; g < GRID_DIVISIONS; ++g) {
    best = costs[g] < costs[best] ? g : best;
  }
  return best;
}

/// Read the phrase once; return the cost of the best reading.
static float
read_once(HearWork* const work, const Reading* const reading)
{
  for (unsigned c = 0; c < work->n_cells; ++c) {
    fill_cell(work, reading, c);
  }
  return work->grid[work->n_cells - 1].costs[0][last_division(work)];
}

/// Follow the best reading back; write each onset's cell and slot.
static void
trace(HearWork* const work, const Reading* const reading)
{
  unsigned split = 0;
  unsigned g     = last_division(work);
  for (unsigned c = work->n_cells; c-- > 0;) {
    GridCell* const cell   = &work->grid[c];
    const unsigned  before = cell->came[split][g] / GRID_DIVISIONS;
    const unsigned  end    = cell->first_split + split;
    const unsigned  begin = c == 0 ? 0 : work->grid[c - 1].first_split + before;
    cell->chosen          = (uint8_t)g;
    cell->n_held          = (uint16_t)(end - begin);
    g                     = cell->came[split][g] % GRID_DIVISIONS;
    split                 = before;
    if (end > begin) {
      const Onsets onsets = {end - begin, &work->times[begin], cell->line};
      reading_slots_of(reading, cell->chosen, onsets, &work->slots[begin]);
    }
    for (unsigned k = begin; k < end; ++k) {
      work->cells[k] = (uint16_t)c;
    }
  }
}

/// What is searched, and with what.
typedef struct {
  HearWork*     work;
  const Phrase* phrase;
  Tick          beat;
  GridFit       usual;
  Reading       first;
} Search;

/// The best reading so far.
typedef struct {
  Reading reading;
  double  later_ms; ///< How much later than usual the player is taken to be
  float   cost;
} Finding;

/// Read, and fit the reading to what was read; return the cost before that.
static float
read_and_fit(const Search* const search, Reading* const reading)
{
  HearWork* const work = search->work;
  const float     cost = read_once(work, reading) +
                     reading_fit_cost(reading, work->n_onsets, search->usual);
  trace(work, reading);
  reading_fit(reading, work, search->usual);
  return cost;
}

/// List the onsets as they would be of a player who plays so much later.
static void
prepare(const Search* const search, const double later_ms)
{
  const double ticks_per_ms = (double)search->beat / search->first.beat_ms;
  const float  early        = reading_early(&search->first);
  list_onsets(search->work,
              search->phrase,
              search->beat,
              (Tick)lround(later_ms * ticks_per_ms),
              (Tick)(early * (float)search->beat));
  list_splits(search->work, early);
}

/// Read twice from an off-beat, fitting in between and after, and keep it if it
/// is the best yet. The onsets have been listed for `later_ms`.
static void
try_reading(const Search* const search,
            Finding* const      best,
            const float         off_beat,
            const double        later_ms,
            const float         price)
{
  Reading reading = search->first;
  reading_swing(&reading, off_beat);
  (void)read_and_fit(search, &reading);
  const float cost = read_and_fit(search, &reading) + price;
  if (cost < best->cost) {
    *best = (Finding){reading, later_ms, cost};
  }
}

/// As try_reading() with the best off-beat so far.
static void
try_lateness(const Search* const search,
             Finding* const      best,
             const double        later_ms,
             const float         price)
{
  prepare(search, later_ms);
  try_reading(search, best, best->reading.off_beat, later_ms, price);
}

/// Find the best reading and leave it in the work.
static Finding
read_best(const Search* const search, const double known_later_ms)
{
  Finding best = {.cost = FLT_MAX};
  prepare(search, 0);
  for (unsigned i = 0; i < N_STARTS; ++i) {
    const float off_beat = (float)reading_off_beat(start_ratios[i]);
    try_reading(search, &best, off_beat, 0, 0);
  }
  if (fabs(known_later_ms) >= LEAST_LATER_MS) {
    try_lateness(search, &best, known_later_ms, reading_known_lag_cost());
  }
  for (unsigned i = 0; i < N_LAGS && search->first.beat_ms >= LEAST_BEAT_MS;
       ++i) {
    try_lateness(search, &best, start_lags_ms[i], reading_lag_cost());
  }

  prepare(search, best.later_ms);
  (void)read_and_fit(search, &best.reading);
  (void)read_and_fit(search, &best.reading);
  (void)read_once(search->work, &best.reading);
  trace(search->work, &best.reading);
  return best;
}

/// Write each onset's place, and in `grid` whether its beat is swung.
static void
write_places(const HearWork* const work,
             Phrase* const         phrase,
             const Reading* const  reading,
             const Tick            beat)
{
  const bool is_swung =
    (double)reading->off_beat >= reading_off_beat(LEAST_SWING);
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    HeardNote* const      heard = &phrase->notes[work->notes[k]];
    const GridCell* const cell  = &work->grid[work->cells[k]];
    const unsigned n_slots = reading_slots(reading, cell->chosen, cell->n_held);
    const double   share   = (double)work->slots[k] / (double)n_slots;
    const Grid     grid    = (Grid)reading->divisions[cell->chosen].grid;
    heard->grid_tick       = cell->tick + (Tick)lround(share * (double)beat);
    heard->grid            = (uint8_t)(is_swung ? grid : GRID_EIGHTH);
  }
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
    const Tick tick = phrase->notes[i].grid_tick;
    const Tick off  = tick - line_before(tick, beat);
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
    } else if (2 * (heard->grid_tick - line_before(heard->grid_tick, beat)) ==
               beat) {
      off += (double)late;
      ++n_off;
    }
  }
  const double lag = n_on > 0 ? on / n_on : 0;
  return 0.5 + (n_off > 0 ? (off / n_off - lag) / (double)beat : 0);
}

GridFit
grid_find(Phrase* const   phrase,
          HearWork* const work,
          const Meter     meter,
          const double    beat_ms,
          const GridFit   usual)
{
  if (phrase->n_notes == 0) {
    return usual;
  }
  // Lateness is sought around that of soloists; the player's own is one of
  // those tried, so that a reading gone astray does not lead the next one
  const GridFit own    = {reading_usual_lag_ms(), usual.spread_ms, usual.ratio};
  const Search  search = {
     .work   = work,
     .phrase = phrase,
     .beat   = meter_beat_ticks(meter),
     .usual  = own,
     .first  = reading_begin(meter, beat_ms, own),
  };
  const Finding        found   = read_best(&search, usual.lag_ms - own.lag_ms);
  const Reading* const reading = &found.reading;
  write_places(work, phrase, reading, search.beat);
  return (GridFit){
    .lag_ms    = (double)reading->lag * beat_ms + found.later_ms,
    .spread_ms = (double)reading->spread * beat_ms,
    .ratio     = (double)reading->off_beat / (1 - (double)reading->off_beat),
  };
}

void
grid_guess_swing(Phrase* const phrase, const Meter meter)
{
  const Tick beat = meter_beat_ticks(meter);
  const bool is_swung =
    !meter_is_compound(meter) &&
    half_beat_share(phrase, beat) >= reading_off_beat(LEAST_SWING);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    phrase->notes[i].grid = is_swung ? GRID_SWUNG_EIGHTH : GRID_EIGHTH;
  }
}

void
grid_name_beats(Phrase* const phrase, const Meter meter)
{
  const Tick beat        = meter_beat_ticks(meter);
  const bool is_compound = meter_is_compound(meter);
  unsigned   first       = 0;
  while (first < phrase->n_notes) {
    const Tick line = line_before(phrase->notes[first].grid_tick, beat);
    unsigned   end  = first + 1;
    while (end < phrase->n_notes &&
           line_before(phrase->notes[end].grid_tick, beat) == line) {
      ++end;
    }
    const Grid grid = grid_of_places(phrase, first, end, beat, is_compound);
    for (; first < end; ++first) {
      HeardNote* const heard = &phrase->notes[first];
      if (grid != GRID_EIGHTH || heard->grid != GRID_SWUNG_EIGHTH) {
        heard->grid = (uint8_t)grid;
      }
    }
  }
}
