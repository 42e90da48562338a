// Plain cases of rhythm as a player would put them to a listener.

#include "invented.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>

static Fixture fixture;

/// Add an onset so many ms late, or early; its place is written down.
static void
play(const Tick   place,
     const double beats,
     const double late_ms,
     Rng* const   rng,
     const double spread_ms)
{
  const double ms = beats * 60000 / fixture.ear.tempo_bpm + late_ms +
                    spread_ms * fixture_gauss(rng);
  fixture_add(
    &fixture, fixture_ticks(&fixture, ms), 300, 60 + fixture.n_notes % 5);
  fixture.places[fixture.n_notes - 1] = place;
}

static unsigned
count_right(const Phrase* const phrase)
{
  unsigned n_right = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    n_right += phrase->notes[i].grid_tick == fixture.places[i];
  }
  return n_right;
}

typedef struct {
  double bpm;
  double spread_ms;
} OffBeatRow;

ParameterizedTestParameters(players, off_beats)
{
  static OffBeatRow rows[] = {
    {72, 0}, {84, 0}, {96, 0}, {96, 8}, {120, 8}, {132, 0}, {132, 8}, {160, 8}};
  return cr_make_param_array(OffBeatRow, rows, sizeof(rows) / sizeof(*rows));
}

/// Swung off-beats by themselves are swung and not late, whatever the tempo:
/// a stranger's, at the ratio that the tempo has.
ParameterizedTest(OffBeatRow* row, players, off_beats)
{
  Rng rng = rng_seed(1, 1);
  fixture_open(&fixture, "4/4", "C7|C7", "major", row->bpm);
  fixture.ear.swing_ratio = 1.6;
  for (unsigned beat = 0; beat < 8; ++beat) {
    play((Tick)beat * 960 + 480, beat + 1.6 / 2.6, 0, &rng, row->spread_ms);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_expect_eq(
    count_right(phrase), 8, "%.0f bpm: %u", row->bpm, count_right(phrase));
  cr_expect_eq(phrase->measures.grid, GRID_SWUNG_EIGHTH, "%.0f bpm", row->bpm);
  cr_expect_lt(fabs((double)phrase->measures.offset_ms),
               30,
               "%.0f bpm: %.0f ms",
               row->bpm,
               (double)phrase->measures.offset_ms);
}

/// Steady crotchets 90 ms behind the beat stay crotchets: one in fifteen may
/// slip.
Test(players, late_crotchets)
{
  Rng      rng     = rng_seed(2, 1);
  unsigned n_right = 0;
  for (unsigned i = 0; i < 40; ++i) {
    fixture_open(&fixture, "4/4", "C7|C7", "major", 80 + 2 * i);
    for (unsigned beat = 0; beat < 8; ++beat) {
      play((Tick)beat * 960, beat, 90, &rng, 25);
    }
    n_right += count_right(fixture_hear(&fixture, 2));
  }
  cr_assert_geq(15 * n_right, 14 * 320, "%u of 320", n_right);
}

/// Quavers 45 ms to either side (30 ms of spread) stay quavers.
Test(players, unsteady_quavers)
{
  Rng          rng     = rng_seed(3, 1);
  unsigned     n_right = 0;
  unsigned     n       = 0;
  Acquaintance known   = {.n_turns = 0};
  for (unsigned i = 0; i < 40; ++i) {
    fixture_open(&fixture, "4/4", "C7|C7", "major", 90);
    fixture.ear.acquaintance = &known;
    for (unsigned half = 0; half < 16; ++half) {
      play((Tick)half * 480, half / 2.0, 10, &rng, 30);
    }
    const Phrase* const phrase = fixture_hear(&fixture, 2);
    n_right += count_right(phrase);
    n += 16;
    hear_learn(&known, &fixture.ear, phrase);
  }
  cr_assert_geq((double)n_right / n, 0.9, "%u of %u", n_right, n);
}

/// One riff, eight turns in a row: heard alike each time.
Test(players, a_riff_is_heard_alike)
{
  static const double beats[]  = {0, 1.625, 2, 2.625, 3.625, 4, 5.625, 6};
  static const Tick   places[] = {0, 1440, 1920, 2400, 3360, 3840, 5280, 5760};
  Rng                 rng      = rng_seed(4, 1);
  unsigned            n_alike  = 0;
  for (unsigned player = 0; player < 20; ++player) {
    Acquaintance known = {.n_turns = 0};
    for (unsigned turn = 0; turn < 8; ++turn) {
      fixture_open(&fixture, "4/4", "C7|C7", "major", 90 + 3 * player);
      fixture.ear.acquaintance = &known;
      for (unsigned i = 0; i < 8; ++i) {
        play(places[i], beats[i], 15, &rng, 12);
      }
      const Phrase* const phrase = fixture_hear(&fixture, 2);
      hear_learn(&known, &fixture.ear, phrase);
      n_alike +=
        count_right(phrase) == 8 && phrase->measures.grid == GRID_SWUNG_EIGHTH;
    }
  }
  cr_assert_geq(n_alike, 152, "%u of 160", n_alike);
}

/// Who swings and plays ahead of the beat is known after some turns: what is
/// played then is no longer heard as late sixteenths, which fit nearly as well.
Test(players, early_swingers)
{
  Rng      rng     = rng_seed(5, 1);
  unsigned n_right = 0;
  unsigned n       = 0;
  for (unsigned i = 0; i < 40; ++i) {
    const InventedPlayer player = {
      100 + 2 * i, -45, 18, 2.2, {1, 1, 1}}; // Tempo, lateness, spread, ratio
    Acquaintance known = {.n_turns = 0};
    for (unsigned turn = 0; turn < 8; ++turn) {
      invented_turn(&fixture, &player, &rng);
      fixture.ear.acquaintance   = &known;
      const Phrase* const phrase = fixture_hear(&fixture, INVENTED_BARS);
      hear_learn(&known, &fixture.ear, phrase);
      if (turn > 3) {
        n_right += count_right(phrase);
        n += fixture.n_notes;
      }
    }
  }
  cr_assert_geq((double)n_right / n, 0.957, "%u of %u", n_right, n);
}
