#include "fixture.h"

#include "responder/hear/measures.h"
#include "support/table.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { VALUE_CAPACITY = 64 };

static Fixture fixture;

/// Read `1 1/2 1/3`, in quarters.
static unsigned
read_durations(const char* text, Tick durations[VALUE_CAPACITY])
{
  unsigned n = 0;
  while (*text) {
    char*  end   = NULL;
    double value = strtod(text, &end);
    if (*end == '/') {
      value /= strtod(end + 1, &end);
    }
    durations[n++] = (Tick)lround(value * 9600);
    text           = *end ? end + 1 : end;
  }
  return n;
}

Test(measures, evenness)
{
  Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/npvi.csv"));
  unsigned n_rows = 0;
  while (table_next(&table)) {
    Tick           durations[VALUE_CAPACITY];
    const unsigned n =
      read_durations(table_field(&table, "durations"), durations);
    const double published = strtod(table_field(&table, "published"), NULL);
    const double found     = (double)measures_evenness(durations, n);
    cr_assert_float_eq(
      found, published, 0.06, "%s: %f", table_field(&table, "name"), found);
    ++n_rows;
  }
  table_close(&table);
  cr_assert_eq(n_rows, 12);
}

Test(measures, contour)
{
  Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/parsons.csv"));
  unsigned n_rows = 0;
  while (table_next(&table)) {
    uint8_t     pitches[VALUE_CAPACITY];
    unsigned    n    = 0;
    const char* text = table_field(&table, "midi_pitches");
    while (*text) {
      char* end    = NULL;
      pitches[n++] = (uint8_t)strtol(text, &end, 10);
      text         = *end ? end + 1 : end;
    }
    char code[VALUE_CAPACITY];
    measures_contour(pitches, n, code);
    cr_assert_str_eq(code, table_field(&table, "parsons"));
    ++n_rows;
  }
  table_close(&table);
  cr_assert_eq(n_rows, 3);
}

/// Two bars of 4/4 hold 7680 ticks; a breath shorter than an eighth (480) is
/// not counted.
Test(measures, space_and_longest_rest)
{
  fixture_open(&fixture, "4/4", "C7|C7", "by chord", 120);
  fixture_add(&fixture, 0, 900, 60);
  fixture_add(&fixture, 960, 480, 64);   // 480 silent after it
  fixture_add(&fixture, 1920, 960, 67);  // 2880 silent after it
  fixture_add(&fixture, 5760, 1500, 60); // 420 silent to the end: no rest
  const Measures* const m = &fixture_hear_written(&fixture, 2)->measures;
  cr_assert_float_eq(m->space, (480.0 + 2880.0) / 7680.0, 1e-6);
  cr_assert_eq(m->longest_rest, 2880);
}

Test(measures, silence_is_all_space)
{
  fixture_open(&fixture, "4/4", "C7|C7", "by chord", 120);
  const Phrase* const   phrase = fixture_hear(&fixture, 2);
  const Measures* const m      = &phrase->measures;
  cr_assert_eq(m->space, 1);
  cr_assert_eq(m->longest_rest, 7680);
  cr_assert_eq(m->onsets_per_bar, 0);
  cr_assert_eq(m->complexity, 0);
  cr_assert_eq(phrase->target, PHRASE_NO_TARGET);
  cr_assert_str_eq(phrase->contour, "");
}

/// C D F F C A G over C7: a step, a third, a repeat, a fourth down, a sixth up
/// and a step down; by hand.
Test(measures, intervals)
{
  static const uint8_t pitches[] = {60, 62, 65, 65, 60, 69, 67};
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 7; ++i) {
    fixture_add(&fixture, (Tick)i * 960, 900, pitches[i]);
  }
  const Phrase* const   phrase = fixture_hear_written(&fixture, 2);
  const Measures* const m      = &phrase->measures;
  cr_assert_float_eq(m->repeats, 1 / 6.0, 1e-6);
  cr_assert_float_eq(m->wider, 2 / 6.0, 1e-6);
  cr_assert_eq(m->range, 9);
  cr_assert_str_eq(phrase->contour, "*uurdud");
  cr_assert_eq(m->onsets_per_bar, 3.5F);
  cr_assert_eq(m->grid, GRID_BEAT);
}

/// C E over C7 bear weight, D is of the scale, F# outside and left (G follows
/// it, which is the fifth: so led), C# at the end left hanging.
Test(measures, roles)
{
  static const uint8_t pitches[] = {60, 64, 62, 66, 67, 61};
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 6; ++i) {
    fixture_add(&fixture, (Tick)i * 960, 900, pitches[i]);
  }
  const Measures* const m = &fixture_hear_written(&fixture, 2)->measures;
  cr_assert_float_eq(m->chord_share, 3 / 6.0, 1e-6);
  cr_assert_float_eq(m->scale_share, 1 / 6.0, 1e-6);
  cr_assert_float_eq(m->outside_share, 2 / 6.0, 1e-6);
  cr_assert_float_eq(m->left_share, 1 / 6.0, 1e-6);
}

Test(measures, the_usual_grid_is_that_of_most_divided_beats)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  static const Tick ticks[] = {
    0, 480, 960, 1440, 1920, 2240, 2560, 2880, 3840, 4800};
  for (unsigned i = 0; i < 10; ++i) {
    fixture_add(&fixture, ticks[i], 200, 60 + i % 3);
  }
  const Phrase* const phrase = fixture_hear_written(&fixture, 2);
  cr_assert_eq(phrase->measures.grid, GRID_EIGHTH);
  cr_assert_eq(phrase->notes[4].grid, GRID_TRIPLET);
  cr_assert_eq(phrase->notes[7].grid, GRID_BEAT);
}
