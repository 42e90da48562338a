#include "core/music/meter.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

enum { SIXTEENTH = 240 };

typedef struct {
  char     text[METER_TEXT_CAPACITY];
  unsigned n_beats;
  int      beat_ticks;
  int      bar_ticks;
  bool     is_compound;
} MeterRow;

// Notation: a quarter is 960 ticks, a dotted quarter 1440
ParameterizedTestParameters(meter, has_its_beats)
{
  static MeterRow rows[] = {
    {"2/4", 2, 960, 1920, false},
    {"3/4", 3, 960, 2880, false},
    {"4/4", 4, 960, 3840, false},
    {"5/4", 5, 960, 4800, false},
    {"6/8", 2, 1440, 2880, true},
    {"12/8", 4, 1440, 5760, true},
  };
  return cr_make_param_array(MeterRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(MeterRow* row, meter, has_its_beats)
{
  Meter meter;
  char  text[METER_TEXT_CAPACITY];
  cr_assert_eq(meter_parse(&meter, row->text), STATUS_OK);
  cr_assert_str_eq(meter_text(meter, text), row->text);
  cr_assert_eq(meter_beats_per_bar(meter), row->n_beats);
  cr_assert_eq(meter_beat_ticks(meter), row->beat_ticks);
  cr_assert_eq(meter_bar_ticks(meter), row->bar_ticks);
  cr_assert_eq(meter_is_compound(meter), row->is_compound);
}

Test(meter, refuses_others)
{
  static const char* const texts[] = {
    "", "4", "4/", "/4", "7/8", "4/4 ", " 4/4", "44/4", "3/8", "12/4"};
  for (unsigned i = 0; i < sizeof(texts) / sizeof(*texts); ++i) {
    Meter meter = {9, 9};
    cr_assert_eq(meter_parse(&meter, texts[i]), STATUS_SYNTAX, "%s", texts[i]);
    cr_assert_eq(meter.numerator, 9);
  }
}

// tests/tables/lhl.csv, see SOURCES.md there
Test(meter, has_the_published_weights)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/lhl.csv"));
  unsigned n = 0;
  while (table_next(&table)) {
    char              text[METER_TEXT_CAPACITY] = "";
    const char* const name                      = table_field(&table, "meter");
    memcpy(text, name, strcspn(name, " "));
    const Tick tick = table_number(&table, "grid_position") * SIXTEENTH;
    Meter      meter;
    cr_assert_eq(meter_parse(&meter, text), STATUS_OK);
    cr_assert_eq(meter_weight(meter, tick),
                 table_number(&table, "weight"),
                 "line %u",
                 table.line);
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 48);
}

/// The definition of Longuet-Higgins & Lee 1984, counted straight from the way
/// in which a bar is divided.
static int
weight_by_division(const unsigned* const divisions, const unsigned position)
{
  unsigned span = 1;
  for (unsigned i = 0; divisions[i]; ++i) {
    span *= divisions[i];
  }
  int weight = 0;
  for (unsigned i = 0; position % span != 0; ++i) {
    span /= divisions[i];
    --weight;
  }
  return weight;
}

Test(meter, weighs_twelve_eight_by_its_divisions)
{
  static const unsigned divisions[] = {2, 2, 3, 2, 0};
  Meter                 meter;
  cr_assert_eq(meter_parse(&meter, "12/8"), STATUS_OK);
  for (unsigned i = 0; i < 24; ++i) {
    cr_assert_eq(meter_weight(meter, (Tick)i * SIXTEENTH),
                 weight_by_division(divisions, i),
                 "sixteenth %u",
                 i);
  }
}

typedef struct {
  char text[METER_TEXT_CAPACITY];
  Tick tick;
  int  weight;
} WeightRow;

// Five as three and two, triplets one level below their beat: by definition in
// meter.h (common practice, no source)
ParameterizedTestParameters(meter, weighs_five_and_triplets)
{
  static WeightRow rows[] = {
    {"5/4", 0, 0},     {"5/4", 960, -2},  {"5/4", 1920, -2},  {"5/4", 2880, -1},
    {"5/4", 3840, -2}, {"5/4", 480, -3},  {"5/4", 3360, -3},  {"5/4", 240, -4},
    {"4/4", 320, -3},  {"4/4", 640, -3},  {"4/4", 2240, -3},  {"3/4", 320, -2},
    {"2/4", 640, -2},  {"5/4", 1280, -3}, {"4/4", 120, -6},   {"4/4", 1, -6},
    {"4/4", 160, -6},  {"6/8", 320, -6},  {"12/8", 1000, -6},
  };
  return cr_make_param_array(WeightRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(WeightRow* row, meter, weighs_five_and_triplets)
{
  Meter meter;
  cr_assert_eq(meter_parse(&meter, row->text), STATUS_OK);
  cr_assert_eq(meter_weight(meter, row->tick), row->weight);
}

Test(meter, weighs_every_bar_alike)
{
  static const char* const texts[] = {
    "2/4", "3/4", "4/4", "5/4", "6/8", "12/8"};
  for (unsigned i = 0; i < sizeof(texts) / sizeof(*texts); ++i) {
    Meter meter;
    cr_assert_eq(meter_parse(&meter, texts[i]), STATUS_OK);
    const Tick bar = meter_bar_ticks(meter);
    for (Tick tick = 0; tick < bar; tick += 20) {
      const int weight = meter_weight(meter, tick);
      cr_assert_eq(meter_weight(meter, tick - bar), weight);
      cr_assert_eq(meter_weight(meter, tick - 7 * bar), weight);
      cr_assert_eq(meter_weight(meter, tick + 1000 * bar), weight);
      cr_assert(weight == 0 ? tick == 0 : weight >= METER_LOWEST_WEIGHT);
    }
  }
}
