#include "responder/hear/grid.h"

#include "responder/hear/beats.h"
#include "responder/hear/fit.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

enum {
  N_STARTS = 3, ///< Swing ratios to begin from
  N_LAGS   = 2, ///< Latenesses to begin from besides the usual
};

/// How the best reading is looked for. Costs are in nats.
static const struct {
  float  early_ms;        ///< No note sounds longer before its beat
  float  early_share;     ///< ... nor a larger share of a beat
  double lag_ms;          ///< Lateness of soloists: the usual one
  double lags_ms[N_LAGS]; ///< Others that are tried, beside that
  float  lag_cost;        ///< Taking one of them
  float  known_cost;      ///< Taking the one that the player is known for
  double known_ms;        ///< Nearer to the usual it is found by fitting
  double least_beat_ms; ///< In shorter beats lag and place cannot be told apart
  double ratios[N_STARTS]; ///< Swing ratios tried
  double even;             ///< Off-beats of a smaller ratio count as even
} SEARCH = {
  .early_ms      = 80.0F,
  .early_share   = 0.15F,
  .lag_ms        = 20,
  .lags_ms       = {-50, 50},
  .lag_cost      = 28.0F,
  .known_cost    = 16.0F,
  .known_ms      = 15,
  .least_beat_ms = 300,
  .ratios        = {1.4, 2.0, 2.8},
  .even          = 1.2,
};

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
  const float     cost = beats_read(work, reading) +
                     fit_cost(reading, work->n_onsets, search->usual);
  beats_trace(work, reading);
  fit_reading(reading, work, search->usual);
  return cost;
}

/// How long before its beat a note may sound, in beats.
static float
early_of(const double beat_ms)
{
  const float share = SEARCH.early_ms / (float)beat_ms;
  return share < SEARCH.early_share ? share : SEARCH.early_share;
}

/// List the onsets as they would be of a player who plays so much later.
static void
prepare(const Search* const search, const double later_ms)
{
  const double ticks_per_ms = (double)search->beat / search->first.beat_ms;
  beats_list(search->work,
             search->phrase,
             search->beat,
             (Tick)lround(later_ms * ticks_per_ms),
             early_of(search->first.beat_ms));
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
    const float off_beat = (float)reading_off_beat(SEARCH.ratios[i]);
    try_reading(search, &best, off_beat, 0, 0);
  }
  if (fabs(known_later_ms) >= SEARCH.known_ms) {
    try_lateness(search, &best, known_later_ms, SEARCH.known_cost);
  }
  for (unsigned i = 0;
       i < N_LAGS && search->first.beat_ms >= SEARCH.least_beat_ms;
       ++i) {
    try_lateness(search, &best, SEARCH.lags_ms[i], SEARCH.lag_cost);
  }

  prepare(search, best.later_ms);
  (void)read_and_fit(search, &best.reading);
  (void)read_and_fit(search, &best.reading);
  (void)beats_read(search->work, &best.reading);
  beats_trace(search->work, &best.reading);
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
    (double)reading->off_beat >= reading_off_beat(SEARCH.even);
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    HeardNote* const      heard = &phrase->notes[work->notes[k]];
    const GridBeat* const cell  = &work->grid[work->beats[k]];
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
    const Tick off  = tick - tick_floor(tick, beat);
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
    } else if (2 * (heard->grid_tick - tick_floor(heard->grid_tick, beat)) ==
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
  const GridFit own    = {SEARCH.lag_ms, usual.spread_ms, usual.ratio};
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
    half_beat_share(phrase, beat) >= reading_off_beat(SEARCH.even);
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
    const Tick line = tick_floor(phrase->notes[first].grid_tick, beat);
    unsigned   end  = first + 1;
    while (end < phrase->n_notes &&
           tick_floor(phrase->notes[end].grid_tick, beat) == line) {
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
