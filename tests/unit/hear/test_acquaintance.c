// What turns tell of a player. Every number of acquaintance.c moves one of
// these figures, which are worked out apart from the program, by the rules that
// its tables state: LATE.usual_ms, sd_ms, turn_sd_ms, drift_ms, surprise,
// least_notes, price, rise, moving_ms, usual_turns; SWING.sd, turn_sd, drift,
// least, most; SPREAD.usual_ms, usual_notes; DIVISION.weight, usual_beats,
// shares; TOLD.stranger, known, later, swung, most; KEPT.

#include "responder/hear/acquaintance.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <float.h>
#include <math.h>

static const Meter  FOUR    = {4, 4};
static const double BEAT_MS = 480.0;
static const double USUAL   = 1.6; // The feel's ratio

enum { BEAT = 960 };

/// Some turns alike.
typedef struct {
  unsigned n_turns;
  unsigned n_plain;
  double   late_ms;
  double   spread_ms;
  Grid     grid;  ///< How the plain ones' beats are divided; BEAT: on them
  double   ratio; ///< Of as many swung off-beats besides; 0: of none
} Turns;

typedef struct {
  char   name[32];
  Turns  turns[4];
  double own_ms, own_price, ratio;
  double eighths, triplets, sixteenths; ///< Prices
} PlayerRow;

ParameterizedTestParameters(acquaintance, learns)
{
  static PlayerRow rows[] = {
    {"a stranger, late once",
     {{1, 8, 60, 10, GRID_BEAT, 0}},
     54.19,
     18,
     1.6,
     0,
     0,
     0},
    {"late twice", {{2, 8, 60, 10, GRID_BEAT, 0}}, 57.38, 13.95, 1.6, 0, 0, 0},
    {"always at one place",
     {{6, 8, 50, 10, GRID_BEAT, 0}},
     49.55,
     6.86,
     1.6,
     0,
     0,
     0},
    {"to and fro",
     {{1, 8, 0, 10, GRID_BEAT, 0},
      {1, 8, 60, 10, GRID_BEAT, 0},
      {1, 8, 0, 10, GRID_BEAT, 0},
      {1, 8, 60, 10, GRID_BEAT, 0}},
     12.16,
     40.92,
     1.6,
     0,
     0,
     0},
    {"three notes tell something",
     {{1, 3, 60, 10, GRID_BEAT, 0}},
     49.68,
     18,
     1.6,
     0,
     0,
     0},
    {"two tell nothing", {{1, 2, 60, 10, GRID_BEAT, 0}}, 20, 18, 1.6, 0, 0, 0},
    {"unsteady ones tell less",
     {{1, 3, 60, 60, GRID_BEAT, 0}},
     40.88,
     18,
     1.6,
     0,
     0,
     0},
    {"swings two to one",
     {{1, 8, 20, 10, GRID_BEAT, 2}},
     20,
     18,
     1.883,
     -.056,
     .153,
     .153},
    {"... three times",
     {{3, 8, 20, 10, GRID_BEAT, 2}},
     20,
     11.32,
     1.954,
     -.086,
     .31,
     .31},
    {"... then three to one",
     {{30, 8, 20, 10, GRID_BEAT, 2}, {6, 8, 20, 10, GRID_BEAT, 3}},
     20,
     .293,
     2.546,
     -.111,
     .605,
     .605},
    {"wide, but swung",
     {{1, 8, 20, 10, GRID_BEAT, 4.9}},
     20,
     18,
     3.302,
     -.056,
     .153,
     .153},
    {"too wide",
     {{1, 8, 20, 10, GRID_BEAT, 5.2}},
     20,
     18,
     1.6,
     -.056,
     .153,
     .153},
    {"turned round, but swung",
     {{1, 8, 20, 10, GRID_BEAT, .52}},
     20,
     18,
     .702,
     -.056,
     .153,
     .153},
    {"too far round",
     {{1, 8, 20, 10, GRID_BEAT, .48}},
     20,
     18,
     1.6,
     -.056,
     .153,
     .153},
    {"triplets twice",
     {{2, 8, 20, 10, GRID_TRIPLET, 0}},
     20,
     13.95,
     1.6,
     .245,
     -.539,
     .245},
    {"sixteenths",
     {{1, 8, 20, 10, GRID_SIXTEENTH, 0}},
     20,
     18,
     1.6,
     .153,
     .153,
     -.245},
    {"even eighths",
     {{1, 8, 20, 10, GRID_EIGHTH, 0}},
     20,
     18,
     1.6,
     -.056,
     .153,
     .153},
  };
  return cr_make_param_array(PlayerRow, rows, sizeof(rows) / sizeof(*rows));
}

static HeardNote
heard_at(const Tick grid, const Grid name, const double beats)
{
  return (HeardNote){.note      = {lround(beats * BEAT), 200, 60, 80},
                     .grid_tick = grid,
                     .grid      = (uint8_t)name};
}

static void
play(Phrase* const phrase, const Turns* const turns)
{
  static const Tick places[] = {[GRID_BEAT]      = 0,
                                [GRID_EIGHTH]    = 480,
                                [GRID_TRIPLET]   = 320,
                                [GRID_SIXTEENTH] = 240};
  const double      late     = turns->late_ms / BEAT_MS;
  *phrase                    = (Phrase){.n_notes = 0};
  phrase->measures.spread_ms = (float)turns->spread_ms;
  for (unsigned i = 0; i < turns->n_plain; ++i) {
    const Tick grid = (Tick)i * BEAT + places[turns->grid];
    phrase->notes[phrase->n_notes++] =
      heard_at(grid, turns->grid, (double)grid / BEAT + late);
    if (turns->ratio > 0) {
      const double off = turns->ratio / (1 + turns->ratio) + late;
      phrase->notes[phrase->n_notes++] =
        heard_at((Tick)i * BEAT + BEAT / 2, GRID_SWUNG_EIGHTH, i + off);
    }
  }
}

ParameterizedTest(PlayerRow* row, acquaintance, learns)
{
  static Phrase     phrase;
  Acquaintance      player = {.n_turns = 0};
  const Timekeeping usual  = {0, 20, USUAL};
  for (unsigned i = 0; i < 4; ++i) {
    for (unsigned turn = 0; turn < row->turns[i].n_turns; ++turn) {
      play(&phrase, &row->turns[i]);
      acquaintance_learn(&player, &phrase, FOUR, BEAT_MS, USUAL);
    }
  }
  const Expectation found = acquaintance_expect(&player, FOUR, usual);
  cr_expect_float_eq(found.own_ms, row->own_ms, 0.1, "%g", found.own_ms);
  cr_expect_float_eq((double)found.own_price, row->own_price, 0.05);
  cr_expect_float_eq(
    found.usual.ratio, row->ratio, 0.004, "%g", found.usual.ratio);
  cr_expect_float_eq((double)found.prices[GRID_EIGHTH], row->eighths, 0.005);
  cr_expect_float_eq((double)found.prices[GRID_TRIPLET], row->triplets, 0.005);
  cr_expect_float_eq(
    (double)found.prices[GRID_SIXTEENTH], row->sixteenths, 0.005);
}

/// Turns alike, and what they say of two ways to hear them.
typedef struct {
  char     name[32];
  unsigned n_turns;
  float    told;           ///< Of being 50 ms earlier, and of swing
  double   earlier, swung; ///< What both then cost
} ToldRow;

ParameterizedTestParameters(acquaintance, is_told)
{
  static ToldRow rows[] = {
    {"nothing", 1, 0, 28, 0},
    {"something once", 1, -20, 24, -6},
    {"twice", 2, -15, 22.3, -8.55},
    {"so much that it swings", 2, -20, 20.4, -10},
    {"always, till it costs nothing", 12, -30, 0, -10},
    {"the contrary", 1, 20, 32, 6},
    {"... twice", 2, 20, 35.6, 10},
  };
  return cr_make_param_array(ToldRow, rows, sizeof(rows) / sizeof(*rows));
}

/// What turns tell of a lateness and of swing is added up, a tenth of it
/// forgotten from turn to turn.
ParameterizedTest(ToldRow* row, acquaintance, is_told)
{
  static Phrase phrase;
  Acquaintance  player = {.n_turns = 0};
  for (unsigned turn = 0; turn < row->n_turns; ++turn) {
    play(&phrase, &(Turns){1, 8, 20, 10, GRID_BEAT, 0});
    phrase.evidence = (Evidence){.later = {0, row->told}, .swung = row->told};
    acquaintance_learn(&player, &phrase, FOUR, BEAT_MS, USUAL);
  }
  const Expectation found =
    acquaintance_expect(&player, FOUR, (Timekeeping){0, 20, USUAL});
  static const double others[] = {32, 28, 28, 28, 28};
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    const double price = i == 1 ? row->earlier : others[i];
    cr_expect_float_eq(
      (double)found.later_prices[i], price, 0.01, "%s: %u", row->name, i);
  }
  cr_expect_float_eq(
    (double)found.swung_price, row->swung, 0.01, "%s", row->name);
}

/// Nobody is known: soloists' lateness is expected, and what was told is kept.
Test(acquaintance, of_a_stranger)
{
  const Expectation found =
    acquaintance_expect(NULL, FOUR, (Timekeeping){7, 25, USUAL});
  cr_assert_float_eq(found.usual.lag_ms, 20, 1e-9);
  cr_assert_float_eq(found.usual.spread_ms, 25, 1e-9);
  cr_assert_float_eq(found.calibrated_ms, 7, 1e-9);
  static const float prices[] = {FLT_MAX, 24, FLT_MAX, FLT_MAX, 24};
  for (unsigned i = 0; i < N_LATENESSES; ++i) {
    cr_assert_float_eq(found.later_prices[i], prices[i], 1e-3F, "%u", i);
  }
}
