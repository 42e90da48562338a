#include "fixture.h"

#include "responder/hear/timing.h"
#include "support/table.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
  RATIO_CAPACITY = 8,
  TEMPO_BPM      = 60 // A beat lasts a second: the table's unit
};

static Fixture fixture;

/// Read numbers; `none`, of a beat that tells no ratio, is passed over.
static unsigned
read_numbers(const char* text, double numbers[RATIO_CAPACITY])
{
  unsigned n = 0;
  while (*text) {
    const size_t length = strcspn(text, " ");
    if (strncmp(text, "none", 4) != 0) {
      numbers[n++] = strtod(text, NULL);
    }
    text += length + (text[length] == ' ');
  }
  return n;
}

static int
compare(const void* const a, const void* const b)
{
  const double x = *(const double*)a;
  const double y = *(const double*)b;
  return (x > y) - (x < y);
}

static double
median(double* const numbers, const unsigned n)
{
  qsort(numbers, n, sizeof(*numbers), compare);
  return n == 0       ? 0
         : n % 2 == 1 ? numbers[n / 2]
                      : (numbers[n / 2 - 1] + numbers[n / 2]) / 2;
}

/// Notes on the beats, and up-beats written on the half beat, or on quarters of
/// the beat where one beat holds several.
static void
lay(const char* const beats, const char* const upbeats)
{
  double         at[RATIO_CAPACITY];
  double         up[RATIO_CAPACITY];
  const unsigned n_beats = read_numbers(beats, at);
  const unsigned n_up    = read_numbers(upbeats, up);
  const double   beat    = at[1] - at[0];
  for (unsigned b = 0; b < n_beats; ++b) {
    fixture_add(&fixture, (Tick)b * 960, 100, 60);
    unsigned n_in = 0;
    for (unsigned u = 0; u < n_up; ++u) {
      n_in += up[u] >= at[b] && up[u] < at[b] + beat;
    }
    for (unsigned u = 0, k = 1; u < n_up; ++u) {
      if (up[u] >= at[b] && up[u] < at[b] + beat) {
        const Tick tick = (Tick)lround(up[u] / beat * 960);
        fixture_add(&fixture, tick, 100, 62);
        fixture.places[fixture.n_notes - 1] =
          (Tick)b * 960 + (n_in == 1 ? 480 : 240 * (Tick)k++);
      }
    }
  }
}

/// The table leaves out beats with none or two up-beats, and its last beat has
/// no end; ours then ends on the beat line, so only earlier ones are laid.
Test(timing, swing_ratio)
{
  Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/bur.csv"));
  unsigned n_rows = 0;
  while (table_next(&table)) {
    fixture_open(&fixture, "4/4", "C7|C7", "major", TEMPO_BPM);
    lay(table_field(&table, "beats_s"), table_field(&table, "upbeats_s"));
    double         ratios[RATIO_CAPACITY];
    const unsigned n =
      read_numbers(table_field(&table, "expected_ratios"), ratios);
    const double expected = median(ratios, n);
    const double found =
      (double)fixture_hear_written(&fixture, 2)->measures.swing_ratio;
    cr_assert_float_eq(found, expected, 0.01, "%f, not %f", found, expected);
    ++n_rows;
  }
  table_close(&table);
  cr_assert_eq(n_rows, 6);
}

/// Sixteen beats in pairs of a ratio, with gaps.
static void
play_swung(const double ratio,
           const double bpm,
           const double jitter_ms,
           Rng*         rng)
{
  fixture_open(&fixture, "4/4", "C7|C7|C7|C7", "major", bpm);
  for (unsigned beat = 0; beat < 16; ++beat) {
    const double places[] = {0, ratio / (1 + ratio)};
    for (unsigned half = 0; half < 2; ++half) {
      const double jitter = jitter_ms * fixture_gauss(rng);
      const Tick   tick   = (Tick)lround((beat + places[half]) * 960) +
                        fixture_ticks(&fixture, 20 + jitter);
      fixture_add(&fixture, tick, 300, 60 + beat % 5 + 2 * half);
    }
  }
}

/// "Round trip: tolerance 0.05 without jitter."
Test(timing, swing_ratio_comes_back)
{
  Rng rng = rng_seed(5, 1);
  for (double bpm = 60; bpm <= 240; bpm += 20) {
    for (double ratio = 1.0; ratio <= 3.01; ratio += 0.1) {
      play_swung(ratio, bpm, 0, &rng);
      const double found =
        (double)fixture_hear(&fixture, 4)->measures.swing_ratio;
      cr_assert_float_eq(
        found, ratio, 0.05, "%.0f bpm, %f: %f", bpm, ratio, found);
    }
  }
}

/// With jitter the standard error over N beats is about
/// jitter (1 + r) sqrt(2 (1 + r + r r)) / (beat sqrt N), of which three times
/// are allowed (small errors; a median of ratios is a third less sure).
Test(timing, swing_ratio_comes_back_with_jitter)
{
  Rng rng = rng_seed(6, 1);
  for (unsigned seed = 0; seed < 200; ++seed) {
    const double bpm    = 90 + rng_unit(&rng) * 70;
    const double ratio  = 1.2 + rng_unit(&rng) * 1.2;
    const double jitter = 10;
    play_swung(ratio, bpm, jitter, &rng);
    const double error = jitter * (1 + ratio) *
                         sqrt(2 * (1 + ratio + ratio * ratio)) /
                         (60000 / bpm * sqrt(16));
    const double found =
      (double)fixture_hear(&fixture, 4)->measures.swing_ratio;
    cr_assert_float_eq(
      found, ratio, 3 * 1.25 * error, "%.0f bpm, %f: %f", bpm, ratio, found);
  }
}

Test(timing, lateness_and_spread)
{
  fixture_open(&fixture, "4/4", "C7|C7|C7|C7", "major", 120);
  for (unsigned i = 0; i < 32; ++i) {
    // 30 ms late in the mean, 10 ms to either side
    const double ms = 30 + (i % 2 ? 10 : -10);
    const Tick   at = (Tick)(i / 2) * 960 + (i % 4 == 1 ? 480 : i % 2 * 480);
    fixture_add(&fixture, at + fixture_ticks(&fixture, ms), 200, 60 + i % 7);
  }
  const Measures* const m = &fixture_hear(&fixture, 4)->measures;
  cr_assert_float_eq(m->offset_ms, 30, 1);
  cr_assert_float_eq(m->spread_ms, 10, 1);
}

/// A swing of the phrase's own is no lateness.
Test(timing, swing_is_no_lateness)
{
  Rng rng = rng_seed(7, 1);
  play_swung(1.8, 120, 0, &rng);
  const Measures* const m = &fixture_hear(&fixture, 4)->measures;
  cr_assert_eq(m->grid, GRID_SWUNG_EIGHTH);
  cr_assert_float_eq(m->offset_ms, 20, 1);
  cr_assert_float_eq(m->spread_ms, 0, 1);
}

Test(timing, no_pairs_tell_no_ratio)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 6; ++i) {
    fixture_add(&fixture, (Tick)i * 960, 400, 60);
  }
  cr_assert_eq(fixture_hear(&fixture, 2)->measures.swing_ratio, 0);
}

/// Pairs with silence after them end on the beat line as this player has it.
Test(timing, pairs_before_a_rest_are_moved_by_the_lag)
{
  fixture_open(&fixture, "4/4", "C7|C7|C7|C7", "major", 120);
  const Tick lag = fixture_ticks(&fixture, 40);
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, (Tick)i * 1920 + lag, 300, 60);
    fixture_add(&fixture, (Tick)i * 1920 + 576 + lag, 300, 62); // 3 : 2
    fixture.places[2 * i]     = (Tick)i * 1920;
    fixture.places[2 * i + 1] = (Tick)i * 1920 + 480;
  }
  cr_assert_float_eq(
    fixture_hear_written(&fixture, 4)->measures.swing_ratio, 1.5, 0.01);
}
