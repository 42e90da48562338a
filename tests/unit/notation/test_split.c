// How lengths are cut into note values. The rows are common practice, as the
// handbooks of notation have it; no source to copy from.

#include "core/notation/split.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

enum { EIGHTH = 480, SIXTEENTH = 240, MOST_PIECES = 12 };

typedef struct {
  char name[40];
  char meter[6];
  char is_rest;
  int  start; // Sixteenths from the beginning of the bar
  int  end;
  int  pieces[MOST_PIECES]; // Sixteenths; 0 ends them
} SplitRow;

ParameterizedTestParameters(split, pieces)
{
  static SplitRow rows[] = {
    {"a whole bar", "4/4", 0, 0, 16, {16}},
    {"three beats", "4/4", 0, 0, 12, {12}},
    {"half and eighth", "4/4", 0, 0, 10, {8, 2}},
    {"seven eighths", "4/4", 0, 0, 14, {8, 6}},
    {"dotted quarter", "4/4", 0, 0, 6, {6}},
    {"quarter over the middle", "4/4", 0, 6, 10, {2, 2}},
    {"half in the middle", "4/4", 0, 4, 12, {8}},
    {"dotted half from two", "4/4", 0, 4, 16, {12}},
    {"dotted quarter over the middle", "4/4", 0, 4, 10, {4, 2}},
    {"eighth quarter eighth", "4/4", 0, 2, 6, {4}},
    {"eighth, dotted quarter", "4/4", 0, 2, 8, {6}},
    {"from two and to four", "4/4", 0, 6, 12, {2, 4}},
    {"anticipated three", "4/4", 0, 6, 16, {2, 8}},
    {"sixteenth eighth sixteenth", "4/4", 0, 1, 3, {2}},
    {"dotted eighth", "4/4", 0, 0, 3, {3}},
    {"late dotted eighth", "4/4", 0, 1, 4, {3}},
    {"sixteenth over a beat", "4/4", 0, 3, 6, {1, 2}},
    {"quarter and sixteenth", "4/4", 0, 0, 5, {4, 1}},
    {"seven sixteenths", "4/4", 0, 0, 7, {4, 3}},
    {"a bar of three", "3/4", 0, 0, 12, {12}},
    {"five eighths", "3/4", 0, 0, 10, {8, 2}},
    {"half from two", "3/4", 0, 4, 12, {8}},
    {"two dotted quarters", "3/4", 0, 6, 12, {2, 4}},
    {"off-beat half", "3/4", 0, 2, 10, {2, 6}},
    {"three and two", "5/4", 0, 0, 20, {12, 8}},
    {"half over the group", "5/4", 0, 8, 16, {4, 4}},
    {"a bar of two", "2/4", 0, 0, 8, {8}},
    {"a bar of six", "6/8", 0, 0, 12, {12}},
    {"a beat of three", "6/8", 0, 0, 6, {6}},
    {"a beat and an eighth", "6/8", 0, 0, 8, {6, 2}},
    {"quarter over the beat", "6/8", 0, 4, 8, {2, 2}},
    {"second quarter of a beat", "6/8", 0, 2, 6, {4}},
    {"five sixteenths of a beat", "6/8", 0, 0, 5, {4, 1}},
    {"a bar of twelve", "12/8", 0, 0, 24, {24}},
    {"three beats of twelve", "12/8", 0, 0, 18, {12, 6}},
    {"two beats over the middle", "12/8", 0, 6, 18, {12}},
    {"half rest", "4/4", 1, 8, 16, {8}},
    {"no half rest over the middle", "4/4", 1, 4, 12, {4, 4}},
    {"three quarters of rest", "4/4", 1, 4, 16, {4, 8}},
    {"no syncopated rest", "4/4", 1, 2, 6, {2, 2}},
    {"no dotted rest", "4/4", 1, 0, 6, {4, 2}},
    {"no half rest in three", "3/4", 1, 0, 8, {4, 4}},
    {"half rest in the group of two", "5/4", 1, 8, 20, {4, 8}},
    {"dotted rest in six", "6/8", 1, 6, 12, {6}},
    {"two eighths of rest", "6/8", 1, 2, 6, {2, 2}},
    {"quarter rest in six", "6/8", 1, 0, 4, {4}},
    {"half a bar of twelve", "12/8", 1, 12, 24, {12}},
  };
  return cr_make_param_array(SplitRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SplitRow* row, split, pieces)
{
  const Moment unit = (Moment)SIXTEENTH * MOMENTS_PER_TICK;
  Meter        meter;
  cr_assert_eq(meter_parse(&meter, row->meter), STATUS_OK);
  Moment   at = row->start * unit;
  unsigned i  = 0;
  for (; at < row->end * unit; ++i) {
    const Moment to = row->is_rest ? split_rest(meter, at, row->end * unit)
                                   : split_note(meter, at, row->end * unit);
    cr_assert(i < MOST_PIECES && (to - at) / unit == row->pieces[i],
              "%s in %s: piece %u is %ld sixteenths",
              row->name,
              row->meter,
              i,
              (long)((to - at) / unit));
    at = to;
  }
  cr_assert(i == MOST_PIECES || row->pieces[i] == 0, "%s", row->name);
}

// Every span on 32nds is cut into values that exist and that fill it
Test(split, always_values)
{
  static const char* const meters[] = {
    "2/4", "3/4", "4/4", "5/4", "6/8", "12/8"};
  const Moment unit = (Moment)SIXTEENTH / 2 * MOMENTS_PER_TICK;
  for (unsigned m = 0; m < sizeof(meters) / sizeof(*meters); ++m) {
    Meter meter;
    Value value;
    cr_assert_eq(meter_parse(&meter, meters[m]), STATUS_OK);
    const Moment bar = MOMENTS_PER_TICK * meter_bar_ticks(meter);
    for (Moment start = 0; start < bar; start += unit) {
      for (Moment end = start + unit; end <= bar; end += unit) {
        for (Moment at = start, to = at; at < end; at = to) {
          to = split_note(meter, at, end);
          cr_assert(to <= end && value_find(&value, to - at));
        }
        for (Moment at = start, to = at; at < end; at = to) {
          to = split_rest(meter, at, end);
          cr_assert(to <= end && value_find(&value, to - at));
          cr_assert(!value.dots || meter_is_compound(meter));
        }
      }
    }
  }
}
