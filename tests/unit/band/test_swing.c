#include "core/music/swing.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>
#include <stdlib.h>

static Meter
meter_of(const char* const text)
{
  Meter meter = {0, 0};
  cr_assert_eq(meter_parse(&meter, text), STATUS_OK, "%s", text);
  return meter;
}

/// Medians of the swing ratio of 357 solos, by band of tempo (computed from the
/// Weimar Jazz Database). The open bands at both ends are held from 15 and 20
/// bpm beyond their edge.
typedef struct {
  double from_bpm;
  double to_bpm;
  double median;
} BandRow;

ParameterizedTestParameters(swing, medians)
{
  static BandRow rows[] = {
    {30, 85, 1.3},
    {100, 130, 1.55},
    {130, 160, 1.7},
    {160, 200, 1.55},
    {200, 240, 1.45},
    {240, 280, 1.3},
    {300, 400, 1.2},
  };
  return cr_make_param_array(BandRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const BandRow* row, swing, medians)
{
  const double middle = (row->from_bpm + row->to_bpm) / 2;
  cr_assert_float_eq(swing_ratio_by_tempo(middle), row->median, 1e-9);

  double sum = 0.0;
  int    n   = 0;
  for (double bpm = row->from_bpm; bpm < row->to_bpm; bpm += 1.0) {
    sum += swing_ratio_by_tempo(bpm);
    ++n;
  }
  cr_assert_float_eq(sum / n, row->median, 0.06);
}

Test(swing, rises_to_its_peak_and_falls_after_it_without_a_jump)
{
  for (double bpm = 30.0; bpm < 400.0; bpm += 0.5) {
    const double here = swing_ratio_by_tempo(bpm);
    const double next = swing_ratio_by_tempo(bpm + 0.5);
    cr_assert_leq(fabs(next - here), 0.01, "a jump at %g bpm", bpm);
    if (bpm < 145.0) {
      cr_assert_geq(next, here, "falls at %g bpm", bpm);
    } else {
      cr_assert_leq(next, here, "rises at %g bpm", bpm);
    }
  }
}

Test(swing, places_the_off_beat_as_the_table_has_it)
{
  static Table table;
  const Meter  four = meter_of("4/4");
  unsigned     n    = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/swing_convert.csv"));
  while (table_next(&table)) {
    const double ratio =
      strtod(table_field(&table, "ratio_long_to_short"), NULL);
    const double at_480 =
      strtod(table_field(&table, "offbeat_tick_at_480ppq"), NULL);
    for (Tick beat = -4; beat <= 4; ++beat) {
      const Tick placed =
        swing_place(four, beat * TICKS_PER_QUARTER + TICKS_PER_EIGHTH, ratio);
      cr_assert_float_eq((double)(placed - beat * TICKS_PER_QUARTER),
                         2 * at_480,
                         0.51,
                         "ratio %g",
                         ratio);
    }
    ++n;
  }
  table_close(&table);
  cr_assert_geq(n, 10U);
}

Test(swing, leaves_beats_and_thirds_where_they_are)
{
  static const char* const meters[] = {"2/4", "3/4", "4/4", "5/4"};
  for (unsigned i = 0; i < sizeof(meters) / sizeof(*meters); ++i) {
    for (Tick tick = -1920; tick <= 3840; tick += 320) {
      if (tick % 960 != 480 && tick % 960 != -480) {
        cr_assert_eq(swing_place(meter_of(meters[i]), tick, 2.5), tick);
      }
    }
  }
}

Test(swing, beats_with_a_sixteenth_are_even_and_the_others_swing)
{
  const Meter four     = meter_of("4/4");
  const Tick  onsets[] = {0, 480, 960, 1200, 1440, 1920, 2880 + 720};
  const Tick  sound[]  = {0, 640, 960, 1200, 1440, 1920, 2880 + 720};
  for (size_t i = 0; i < 7; ++i) {
    cr_assert_eq(swing_place_in(four, onsets[i], 2.0, onsets, 7), sound[i]);
  }
  cr_assert_eq(swing_place_in(four, 1920 + 480, 2.0, onsets, 7), 1920 + 640);
  cr_assert_eq(swing_place_in(four, 2880 + 480, 2.0, onsets, 7), 2880 + 480);
}

Test(swing, leaves_compound_meters_alone)
{
  for (Tick tick = -2880; tick <= 5760; tick += 120) {
    cr_assert_eq(swing_place(meter_of("12/8"), tick, 3.0), tick);
    cr_assert_eq(swing_place(meter_of("6/8"), tick, 3.0), tick);
  }
}

Test(swing, keeps_the_order_of_halves_and_quarters)
{
  static const double ratios[] = {0.25, 0.8, 1.0, 1.5, 2.0, 4.0};
  for (unsigned i = 0; i < sizeof(ratios) / sizeof(*ratios); ++i) {
    for (Tick tick = -960; tick < 1920; tick += 240) {
      const Tick here = swing_place(meter_of("4/4"), tick, ratios[i]);
      const Tick next = swing_place(meter_of("4/4"), tick + 240, ratios[i]);
      cr_assert_lt(here, next);
    }
  }
}

Test(swing, puts_a_quarter_of_the_beat_in_the_middle_of_its_half)
{
  const Meter four = meter_of("4/4");
  const Tick  half = swing_place(four, 480, 2.0);
  cr_assert_eq(swing_place(four, 240, 2.0), half / 2);
  cr_assert_eq(swing_place(four, 720, 2.0), (half + 960) / 2);
}

Test(swing, is_straight_at_one)
{
  for (Tick tick = -960; tick <= 1920; tick += 60) {
    cr_assert_eq(swing_place(meter_of("4/4"), tick, 1.0), tick);
  }
}
