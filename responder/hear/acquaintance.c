#include "responder/hear/acquaintance.h"

#include <float.h>
#include <math.h>
#include <string.h>

/// How late soloists are (means of 295 solos of the Weimar Jazz Database 1.2:
/// 21.7 ms, standard deviation 16.6), and how much a turn tells of a player.
/// Chosen on half of 30 such solos and on invented players.
static const struct {
  double usual_ms;
  double sd_ms;       ///< Over people
  double turn_sd_ms;  ///< Of one player's turns about it
  double drift_ms;    ///< From turn to turn
  double surprise;    ///< Squared sds from which a turn tells half as much
  double least_notes; ///< Turns of fewer notes tell nothing
  double price;       ///< Taking a lateness that moves as people's do, in nats
  double rise;        ///< ... e times its variance
  double moving_ms;   ///< As people's do, standard deviation
  double usual_turns; ///< How many turns' worth of trust has that
} LATE = {20, 24, 6, 2, 6, 3, 18, 10, 11, 2};

/// The same for the logarithm of the swing ratio.
static const struct {
  double sd;
  double turn_sd;
  double drift;
  double least, most; ///< Ratios beyond tell nothing
} SWING = {0.2, 0.1, 0.02, 0.5, 5};

/// The spread that is taken while few notes tell another.
static const struct {
  double usual_ms;
  double usual_notes; ///< How many notes' worth of trust has that
} SPREAD = {20, 10};

/// Divisions that the player uses are cheaper, those they do not use dearer.
static const struct {
  double weight;          ///< Of the logarithm of a share beside the usual one
  double usual_beats;     ///< How many beats' worth of trust has the usual one
  double shares[N_GRIDS]; ///< Of the beats that show a division (298 solos)
} DIVISION = {
  0.3,
  12,
  {[GRID_EIGHTH] = 0.66, [GRID_TRIPLET] = 0.10, [GRID_SIXTEENTH] = 0.24}};

/// What turns told of the ways to hear them counts in what those cost. Chosen
/// on invented players and on half of 30 annotated solos.
static const struct {
  float stranger[N_LATENESSES]; ///< Taking a lateness, in nats (search.h)
  float known[N_LATENESSES];    ///< ... where turns have told nothing
  float later; ///< Share of what was told of it that counts: notes go astray
               ///< together
  float swung; ///< ... of swing
  float most;  ///< Most that swing costs more for it, in nats
} TOLD = {{FLT_MAX, 24, FLT_MAX, FLT_MAX, 24},
          {32, 28, 28, 28, 28},
          0.2F,
          0.3F,
          10};

static const double KEPT = 0.9; ///< Of what was learned, at the next turn

static double
squared(const double value)
{
  return value * value;
}

/// What it costs to take the player to be as late as so far: the less, the
/// less it changed from turn to turn.
static float
own_price(const Acquaintance* const acquaintance)
{
  const double people = squared(LATE.moving_ms);
  const double variance =
    (acquaintance->moved_ms2 + LATE.usual_turns * people) /
    (acquaintance->n_moved + LATE.usual_turns);
  const double price = LATE.price + LATE.rise * log(variance / people);
  return (float)fmax(0, price);
}

/// Whether eighths are swung is told for a phrase, not by the beat.
static Grid
family_of(const Grid grid)
{
  return grid == GRID_SWUNG_EIGHTH ? GRID_EIGHTH : grid;
}

static void
price_divisions(Expectation* const        expectation,
                const Acquaintance* const acquaintance)
{
  double n                 = DIVISION.usual_beats;
  double families[N_GRIDS] = {0};
  for (unsigned g = GRID_EIGHTH; g < N_GRIDS; ++g) {
    families[family_of((Grid)g)] += acquaintance->beats[g];
    n += acquaintance->beats[g];
  }
  for (unsigned g = GRID_EIGHTH; g < N_GRIDS; ++g) {
    const Grid   family = family_of((Grid)g);
    const double usual  = DIVISION.shares[family];
    const double share  = (families[family] + DIVISION.usual_beats * usual) / n;
    expectation->prices[g] = (float)(-DIVISION.weight * log(share / usual));
  }
}

/// What was told of a way to hear makes it dearer or cheaper.
static void
price_told(Expectation* const expectation, const Evidence* const evidence)
{
  const float swung        = TOLD.swung * evidence->swung;
  expectation->swung_price = fmaxf(-TOLD.most, fminf(swung, TOLD.most));
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    const float told             = TOLD.later * evidence->later[i];
    expectation->later_prices[i] = fmaxf(0, TOLD.known[i] + told);
  }
}

Expectation
acquaintance_expect(const Acquaintance* const acquaintance,
                    const Meter               meter,
                    const Timekeeping         usual)
{
  Expectation expectation = {
    .usual         = {LATE.usual_ms, usual.spread_ms, usual.ratio},
    .calibrated_ms = usual.lag_ms,
    .own_price     = FLT_MAX,
    .may_swing     = true,
  };
  if (!acquaintance || acquaintance->n_turns == 0) {
    memcpy(expectation.later_prices, TOLD.stranger, sizeof(TOLD.stranger));
    return expectation;
  }
  price_told(&expectation, &acquaintance->evidence);
  expectation.own_ms      = acquaintance->lag_ms;
  expectation.own_price   = own_price(acquaintance);
  expectation.usual.ratio = exp(acquaintance->log_ratio);
  if (!meter_is_compound(meter)) {
    price_divisions(&expectation, acquaintance);
  }
  return expectation;
}

/// What a turn tells.
typedef struct {
  double n_plain, plain; ///< Notes but for swung off-beats; their lateness
  double n_swung, swung; ///< Swung off-beats; how far behind the beat, in beats
  double beats[N_GRIDS];
} Told;

static Told
told_by(const Phrase* const phrase, const Tick beat)
{
  Told told = {.n_plain = 0};
  Tick last = INT64_MIN;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    const Tick             line  = tick_floor(heard->grid_tick, beat);
    const Tick             off   = heard->grid_tick - line;
    if (heard->is_ornament) {
      continue;
    }
    if (heard->grid == GRID_SWUNG_EIGHTH && 2 * off == beat) {
      told.swung += (double)(heard->note.tick - line) / (double)beat;
      told.n_swung += 1;
    } else {
      told.plain +=
        (double)(heard->note.tick - heard->grid_tick) / (double)beat;
      told.n_plain += 1;
    }
    // A note in the second half alone may be swung, dotted or of a triplet
    if (off > 0 && 2 * off <= beat && line != last) {
      told.beats[heard->grid] += 1;
      last = line;
    }
  }
  return told;
}

static void
learn_lateness(Acquaintance* const acquaintance,
               const double        lag_ms,
               const double        spread_ms,
               const double        n)
{
  if (n < LATE.least_notes) {
    return;
  }
  const double before = acquaintance->lag_variance;
  const double noise  = squared(spread_ms) / n;
  const double away   = lag_ms - acquaintance->lag_ms;
  if (acquaintance->n_turns > 0) {
    const double moved      = squared(away) - noise - before;
    acquaintance->n_moved   = KEPT * acquaintance->n_moved + 1;
    acquaintance->moved_ms2 = KEPT * acquaintance->moved_ms2 + fmax(0, moved);
  }
  const double turn = noise + squared(LATE.turn_sd_ms);
  const double told =
    turn * (1 + squared(away) / (before + turn) / LATE.surprise);
  const double gain = before / (before + told);
  acquaintance->lag_ms += gain * away;
  acquaintance->lag_variance = (1 - gain) * before + squared(LATE.drift_ms);
}

static void
learn_swing(Acquaintance* const acquaintance,
            const Told* const   told,
            const double        lag,
            const double        spread)
{
  const double off = told->n_swung > 0 ? told->swung / told->n_swung - lag : 0;
  const double ratio = off > 0 && off < 1 ? off / (1 - off) : 0;
  if (told->n_plain < 1 || ratio <= SWING.least || ratio >= SWING.most) {
    return;
  }
  const double sd = spread / (off * (1 - off));
  const double told_variance =
    squared(sd) * (1 / told->n_swung + 1 / told->n_plain) +
    squared(SWING.turn_sd);
  const double gain = acquaintance->ratio_variance /
                      (acquaintance->ratio_variance + told_variance);
  acquaintance->log_ratio += gain * (log(ratio) - acquaintance->log_ratio);
  acquaintance->ratio_variance =
    (1 - gain) * acquaintance->ratio_variance + squared(SWING.drift);
}

static void
learn_evidence(Evidence* const evidence, const Evidence* const told)
{
  const float kept = (float)KEPT;
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    evidence->later[i] = kept * evidence->later[i] + told->later[i];
  }
  evidence->swung = kept * evidence->swung + told->swung;
}

void
acquaintance_learn(Acquaintance* const acquaintance,
                   const Phrase* const phrase,
                   const Meter         meter,
                   const double        beat_ms,
                   const double        ratio)
{
  if (phrase->n_notes == 0 || meter_is_compound(meter)) {
    return;
  }
  if (acquaintance->n_turns == 0) {
    acquaintance->lag_ms         = LATE.usual_ms;
    acquaintance->lag_variance   = squared(LATE.sd_ms);
    acquaintance->log_ratio      = log(ratio);
    acquaintance->ratio_variance = squared(SWING.sd);
  }
  const Told   told  = told_by(phrase, meter_beat_ticks(meter));
  const double lag   = told.n_plain > 0 ? told.plain / told.n_plain : 0;
  const double n     = told.n_plain + told.n_swung;
  const double heard = n * squared((double)phrase->measures.spread_ms);
  const double spread =
    sqrt((heard + SPREAD.usual_notes * squared(SPREAD.usual_ms)) /
         (n + SPREAD.usual_notes));
  learn_lateness(acquaintance, lag * beat_ms, spread, told.n_plain);
  learn_swing(acquaintance, &told, lag, spread / beat_ms);

  learn_evidence(&acquaintance->evidence, &phrase->evidence);
  for (unsigned g = GRID_EIGHTH; g < N_GRIDS; ++g) {
    acquaintance->beats[g] = KEPT * acquaintance->beats[g] + told.beats[g];
  }
  ++acquaintance->n_turns;
}
