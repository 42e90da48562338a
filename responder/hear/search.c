#include "responder/hear/search.h"

#include "responder/hear/beats.h"
#include "responder/hear/fit.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

enum {
  N_STARTS = 2, ///< Swing ratios to begin from
};

const double search_latenesses_ms[N_LATENESSES] = {-75, -50, -25, 25, 50};

/// How the best reading is looked for. Costs are in nats. Chosen on half of 30
/// annotated solos and on invented players.
static const struct {
  float  early_share; ///< No note sounds a larger share of a beat before it
  float  calibrated_price; ///< Taking the lateness told beforehand
  double least_beat_ms; ///< In shorter beats lag and place cannot be told apart
  double ratios[N_STARTS]; ///< Swing ratios tried besides the usual one
  float
    hopeless; ///< Dearer by so much at first, a reading is given up: for speed
  float evidence; ///< More than so much dearer a way to hear tells nothing
} SEARCH = {
  .early_share      = 0.15F,
  .calibrated_price = 21.0F,
  .least_beat_ms    = 300,
  .ratios           = {2.0, 2.8},
  .hopeless         = 45.0F,
  .evidence         = 30.0F,
};

/// A phrase is straight or swung, never both.
static const struct {
  float price;     ///< Swinging, in nats
  float less;      ///< ... for which every swung beat costs less
  float off_beats; ///< Fewer of the notes on the beat, and swinging is free
} SWUNG = {3.0F, 0.9F, 0.3F};

/// Beats of one note at most may be a player's who is unsteady, and late.
static const struct {
  float  density; ///< Fewer notes a beat
  double spread_ms;
  double later_ms;
  float  price;
} SPARSE = {1.1F, 40, 50, 12.0F};

/// What is searched, and with what.
typedef struct {
  HearWork*          work;
  const Phrase*      phrase;
  const Expectation* expectation;
  Tick               beat;
  Timekeeping        usual;
  Reading            first;
  float              price; ///< Of all that is found in it
  float              most;  ///< What costs more need not be known
} Search;

/// What the best readings cost: as late as usual, and otherwise.
typedef struct {
  float usual;
  float later[N_LATENESSES];
} Costs;

/// Read, and fit the reading to what was read; return the cost before that,
/// FLT_MAX if it is not under `most` or the divisions do not hold the notes.
static float
read_and_fit(HearWork* const   work,
             Reading* const    reading,
             const Timekeeping usual,
             const float       most)
{
  const float fit = fit_cost(reading, work->n_onsets, usual);
  const float cost =
    beats_read(work, reading, most < FLT_MAX ? most - fit : FLT_MAX);
  if (cost == FLT_MAX) {
    return FLT_MAX;
  }
  beats_trace(work, reading);
  fit_reading(reading, work, usual);
  return cost + fit;
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
             SEARCH.early_share);
}

/// Read twice from an off-beat, fitting in between and after, and keep it if it
/// is the best yet. The onsets have been listed for `later_ms`. Return the cost
/// without the price; FLT_MAX if it is not the best and need not be known.
static float
try_reading(const Search* const search,
            Finding* const      best,
            const float         off_beat,
            const double        later_ms,
            const float         price)
{
  Reading reading = search->first;
  reading_swing(&reading, off_beat);
  const float best_yet = best->cost < FLT_MAX ? best->cost - price : FLT_MAX;
  const float known    = best_yet > search->most ? best_yet : search->most;
  const float most     = known < FLT_MAX ? known - search->price : FLT_MAX;
  const float once     = most < FLT_MAX ? most + SEARCH.hopeless : FLT_MAX;
  if (read_and_fit(search->work, &reading, search->usual, once) == FLT_MAX) {
    return FLT_MAX;
  }
  const float read = read_and_fit(search->work, &reading, search->usual, most);
  if (read == FLT_MAX) {
    return FLT_MAX;
  }
  const float cost = read + search->price;
  if (cost + price < best->cost) {
    *best = (Finding){.reading  = reading,
                      .usual    = search->usual,
                      .later_ms = later_ms,
                      .cost     = cost + price};
  }
  return cost;
}

/// As try_reading() with the best off-beat so far.
static float
try_lateness(const Search* const search,
             Finding* const      best,
             const double        later_ms,
             const float         price)
{
  prepare(search, later_ms);
  return try_reading(search, best, best->reading.off_beat, later_ms, price);
}

static void
try_latenesses(const Search* const search,
               Finding* const      best,
               Costs* const        costs)
{
  const Expectation* const expectation = search->expectation;
  const bool               is_known    = expectation->own_price < FLT_MAX;
  const double             own = expectation->own_ms - search->usual.lag_ms;
  const double told = expectation->calibrated_ms - search->usual.lag_ms;
  if (is_known) {
    (void)try_lateness(search, best, own, expectation->own_price);
  }
  if (fabs(told) > 0) {
    (void)try_lateness(search, best, told, SEARCH.calibrated_price);
  }
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    costs->later[i] = costs->usual;
    if (search->first.beat_ms >= SEARCH.least_beat_ms) {
      costs->later[i] = try_lateness(
        search, best, search_latenesses_ms[i], expectation->later_prices[i]);
    }
  }
}

/// Search with swung off-beats, from several ratios.
static Costs
search_swings(const Search* const search, Finding* const best)
{
  prepare(search, 0);
  const float usual = (float)reading_off_beat(search->usual.ratio);
  Costs       costs = {.usual = FLT_MAX};
  for (unsigned i = 0; i < N_STARTS; ++i) {
    const float off_beat = (float)reading_off_beat(SEARCH.ratios[i]);
    costs.usual = fminf(costs.usual, try_reading(search, best, off_beat, 0, 0));
  }
  costs.usual = fminf(costs.usual, try_reading(search, best, usual, 0, 0));
  try_latenesses(search, best, &costs);
  return costs;
}

/// Search where no off-beat's place is to be found; what follows need know no
/// more than what is told beside it.
static Costs
search_even(Search* const search, Finding* const best)
{
  prepare(search, 0);
  Costs costs;
  costs.usual  = try_reading(search, best, search->first.off_beat, 0, 0);
  search->most = costs.usual + SEARCH.evidence;
  try_latenesses(search, best, &costs);
  return costs;
}

/// Take few notes to be those of someone unsteady, and late.
static void
search_sparse(const Search* const search, Finding* const best)
{
  const HearWork* const work = search->work;
  const float span = work->times[work->n_onsets - 1] - work->times[0] + 1;
  if ((float)work->n_onsets >= SPARSE.density * span ||
      search->first.beat_ms < SEARCH.least_beat_ms) {
    return;
  }
  Search wide          = *search;
  wide.usual.spread_ms = SPARSE.spread_ms;
  wide.first.spread    = (float)(SPARSE.spread_ms / wide.first.beat_ms);
  reading_forbid(&wide.first, GRID_TRIPLET);
  reading_forbid(&wide.first, GRID_SIXTEENTH);
  (void)try_lateness(&wide, best, SPARSE.later_ms, SPARSE.price);
}

/// Read once more, with all that was found.
static void
read_finally(const Search* const search, Finding* const found)
{
  prepare(search, found->later_ms);
  (void)read_and_fit(search->work, &found->reading, found->usual, FLT_MAX);
  (void)read_and_fit(search->work, &found->reading, found->usual, FLT_MAX);
  (void)beats_read(search->work, &found->reading, FLT_MAX);
  beats_trace(search->work, &found->reading);
}

/// Whether a straight reading stands on beats and half beats, and hardly on
/// beats: what it hears as late may be swung.
static bool
is_off_beats(const Search* const search, const Finding* const found)
{
  HearWork* const work    = search->work;
  Reading         reading = found->reading;
  unsigned        n_on    = 0;
  prepare(search, found->later_ms);
  (void)read_and_fit(work, &reading, found->usual, FLT_MAX);
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    const GridBeat* const beat = &work->grid[work->beats[k]];
    const unsigned n = reading_slots(&reading, beat->chosen, beat->n_held);
    if (2 * work->slots[k] % n != 0) {
      return false;
    }
    n_on += work->slots[k] == 0;
  }
  return (float)n_on < SWUNG.off_beats * (float)work->n_onsets;
}

static Search
swung_search(const Search* const search)
{
  Search swung = *search;
  swung.price  = SWUNG.price + search->expectation->swung_price;
  reading_forbid(&swung.first, GRID_EIGHTH);
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    if (swung.first.divisions[g].grid == GRID_SWUNG_EIGHTH) {
      swung.first.prices[g] -= SWUNG.less;
    }
  }
  return swung;
}

/// The cost of a way to hear, whatever the lateness.
static float
least_cost(const Costs* const costs, const float* const prices)
{
  float least = costs->usual;
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    least = fminf(least, costs->later[i] + prices[i]);
  }
  return least;
}

/// How much dearer one way is than the other, as far as it tells.
static float
dearer(const float cost, const float than)
{
  return fmaxf(fminf(cost - than, SEARCH.evidence), -SEARCH.evidence);
}

static Evidence
evidence_of(const Search* const search,
            const Costs* const  straight,
            const Costs* const  swung,
            const float         swung_price)
{
  const float* const prices   = search->expectation->later_prices;
  Evidence           evidence = {
              .swung = dearer(least_cost(swung, prices) - swung_price,
                    least_cost(straight, prices)),
  };
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    evidence.later[i] = dearer(fminf(straight->later[i], swung->later[i]),
                               fminf(straight->usual, swung->usual));
  }
  return evidence;
}

static Finding
search_simple(const Search* const search)
{
  Search straight = *search;
  reading_forbid(&straight.first, GRID_SWUNG_EIGHTH);
  Finding     found = {.cost = FLT_MAX};
  const Costs even  = search_even(&straight, &found);
  search_sparse(&straight, &found);

  Search swung = swung_search(search);
  if (search->expectation->may_swing && is_off_beats(search, &found)) {
    swung.price = 0;
  }
  swung.most        = straight.most;
  const Costs swing = search_swings(&swung, &found);
  found.evidence    = evidence_of(search, &even, &swing, swung.price);
  return found;
}

Finding
search_best(HearWork* const          work,
            const Phrase* const      phrase,
            const Meter              meter,
            const double             beat_ms,
            const Expectation* const expectation)
{
  Search search = {
    .work        = work,
    .phrase      = phrase,
    .most        = -FLT_MAX,
    .expectation = expectation,
    .beat        = meter_beat_ticks(meter),
    .usual       = expectation->usual,
    .first       = reading_begin(meter, beat_ms, expectation),
  };
  Finding found = {.cost = FLT_MAX};
  if (meter_is_compound(meter)) {
    (void)search_even(&search, &found);
  } else {
    found = search_simple(&search);
  }
  read_finally(&search, &found);
  return found;
}

void
search_again(HearWork* const     work,
             const Phrase* const phrase,
             const Meter         meter,
             Finding* const      found)
{
  const Search search = {
    .work   = work,
    .phrase = phrase,
    .beat   = meter_beat_ticks(meter),
    .first  = found->reading,
  };
  read_finally(&search, found);
}
