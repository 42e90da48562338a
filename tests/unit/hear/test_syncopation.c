#include "responder/hear/syncopation.h"

#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

enum { ONSET_CAPACITY = 64 };

/// Onsets of a vector of ones and noughts on sixteenths.
static unsigned
onsets_of(const char* const vector, Tick ticks[ONSET_CAPACITY])
{
  unsigned n = 0;
  for (unsigned i = 0; vector[i]; ++i) {
    if (vector[i] == '1') {
      ticks[n++] = (Tick)i * 240;
    }
  }
  return n;
}

static float
syncopation_of(const char* const vector, const char* const meter_name)
{
  Meter meter = {4, 4};
  cr_assert_eq(meter_parse(&meter, meter_name), STATUS_OK);
  Tick           ticks[ONSET_CAPACITY];
  const unsigned n   = onsets_of(vector, ticks);
  const Tick     bar = meter_bar_ticks(meter);
  const Tick     end = (Tick)strlen(vector) * 240;
  return syncopation_sum(ticks, n, meter, 0, (end + bar - 1) / bar * bar);
}

Test(syncopation, examples)
{
  Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/lhl_examples.csv"));
  unsigned n = 0;
  while (table_next(&table)) {
    const char* const vector = table_field(&table, "vector");
    const char* const meter  = table_field(&table, "meter");
    const long        sum    = table_number(&table, "syncopation_single_bar");
    cr_assert_eq((long)syncopation_of(vector, meter), sum, "%s", vector);
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 15);
}

Test(syncopation, patterns_of_shmulevich_and_povel)
{
  Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/shmulevich_povel.csv"));
  unsigned n = 0;
  while (table_next(&table)) {
    const char* const vector = table_field(&table, "vector");
    const long        sum    = table_number(&table, "lhl_strict_single_bar");
    cr_assert_eq((long)syncopation_of(vector, "4/4"), sum, "%s", vector);
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 35);
}

/// Vectors on sixteenths of 4/4, two bars and more. The values follow from the
/// strict rule of Longuet-Higgins & Lee 1984: rest less note.
typedef struct {
  char  vector[ONSET_CAPACITY + 1];
  float sum;
} AcrossRow;

ParameterizedTestParameters(syncopation, across_the_bar_line)
{
  static AcrossRow rows[] = {
    // The "and" of four, then an empty downbeat: 0 - (-3)
    {"10001000100000100000100010001000", 3},
    // ... then a note on it
    {"10001000100000101000100010001000", 0},
    // An empty bar after it is met by that note, a second one is not
    {"000000000000001000000000000000000000000000000000", 3},
    // Off-beat quarters for two bars: 4 in each, 3 across
    {"00100010001000100010001000100010", 11},
  };
  return cr_make_param_array(AcrossRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(AcrossRow* row, syncopation, across_the_bar_line)
{
  cr_assert_eq(syncopation_of(row->vector, "4/4"), row->sum, "%s", row->vector);
}

Test(syncopation, pick_up_is_the_note_before)
{
  const Meter meter   = {4, 4};
  const Tick  ticks[] = {-480, 960};
  // The second beat alone: half bar empty, -1 - (-2); the pick-up: 0 - (-3)
  cr_assert_eq(syncopation_sum(&ticks[1], 1, meter, 0, 3840), 1);
  cr_assert_eq(syncopation_sum(ticks, 2, meter, 0, 3840), 1 + 3);
}

/// Thirds of a beat are divisions, no syncopation; a held middle one is.
Test(syncopation, triplets)
{
  const Meter meter  = {4, 4};
  const Tick  even[] = {0, 320, 640, 960, 1920, 2880};
  cr_assert_eq(syncopation_sum(even, 6, meter, 0, 3840), 0);
  const Tick held[] = {0, 640, 1920, 2880};
  // The last third (-3), then the second beat (-2) empty
  cr_assert_eq(syncopation_sum(held, 4, meter, 0, 3840), 1);
}

/// Five beats are three and two: the fourth weighs -1, the third -2.
Test(syncopation, five_beats)
{
  const Meter meter     = {5, 4};
  const Tick  threes[]  = {0, 960, 1920};
  const Tick  fourth[]  = {0, 960, 1920, 2880};
  const Tick  only_up[] = {0, 3840};
  cr_assert_eq(syncopation_sum(threes, 3, meter, 0, 4800), 1);
  cr_assert_eq(syncopation_sum(fourth, 4, meter, 0, 4800), 0);
  cr_assert_eq(syncopation_sum(only_up, 2, meter, 0, 4800), 0);
}

Test(syncopation, any_onsets_are_walked_through)
{
  const Meter meters[] = {{2, 4}, {3, 4}, {4, 4}, {5, 4}, {6, 8}, {12, 8}};
  for (unsigned m = 0; m < 6; ++m) {
    const Tick bar = meter_bar_ticks(meters[m]);
    for (Tick step = 1; step < bar; step += 7) {
      Tick     ticks[ONSET_CAPACITY];
      unsigned n = 0;
      for (Tick t = 0; t < 2 * bar && n < ONSET_CAPACITY; t += step) {
        ticks[n++] = t;
      }
      cr_assert_geq(syncopation_sum(ticks, n, meters[m], 0, 2 * bar), 0);
    }
  }
}
