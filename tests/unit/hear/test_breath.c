// Both sides of each number that makes a breath (breath.c): WEIGHT.seconds,
// beats, gaps, others, length, gap, leap, threshold; LEAST_OTHER_S, NEIGHBOURS,
// GAPS_BEFORE, GAPS_AFTER, WIDEST. The weights are a regression over annotated
// solos; on which side of the threshold a rest lies is worked out by hand from
// the sum that breath.c gives, a tenth or less from it where no other name is
// given.

#include "responder/hear/breath.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>

static const double MS_PER_TICK = 500.0 / 960.0; // 120 bpm

static Phrase phrase;

static void
add(const double ms, const double length_ms, const unsigned pitch)
{
  phrase.notes[phrase.n_notes++].note = (Note){lround(ms / MS_PER_TICK),
                                               lround(length_ms / MS_PER_TICK),
                                               (uint8_t)pitch,
                                               80};
}

/// A line of notes; after the tenth a rest and a leap, and so much rest after
/// the fourteenth.
typedef struct {
  char     name[40];
  double   gap, length; ///< Of the line, in ms
  double   last;        ///< Length of the note before the rest
  double   rest;
  unsigned leap;
  double   other; ///< Rest after the fourteenth; 0: as in the line
  bool     is_breath;
} LineRow;

ParameterizedTestParameters(breath, lines)
{
  static LineRow rows[] = {
    {"a short note, a rest, an octave", 1200, 1140, 342, 400, 12, 0, true},
    {"fast, a rest of two notes", 100, 95, 28, 200, 4, 0, false},
    {"a long note, a longer rest nearby", 200, 190, 760, 300, 4, 1000, true},
    {"a leap of a sixth, hardly a rest", 250, 200, 200, 215, 8, 0, false},
    {"... a little more rest", 250, 200, 200, 228, 8, 0, true},
    {"two octaves are no more than one", 250, 200, 200, 200, 24, 0, true},
    {"... with less rest", 250, 200, 200, 185, 24, 0, false},
  };
  return cr_make_param_array(LineRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(LineRow* row, breath, lines)
{
  double ms = 0;
  phrase    = (Phrase){0};
  for (unsigned i = 0; i < 21; ++i) {
    const bool is_last = i == 9;
    add(ms, is_last ? row->last : row->length, i < 10 ? 60 : 60 + row->leap);
    ms += is_last                     ? row->last + row->rest
          : i == 13 && row->other > 0 ? row->length + row->other
                                      : row->gap;
  }
  breath_mark(&phrase, MS_PER_TICK);
  cr_assert_eq(phrase.notes[10].begins_phrase, row->is_breath, "%s", row->name);
}

/// A larger rest tells among eight on each side, and no further.
Test(breath, beside_other_rests)
{
  for (int side = -1; side <= 1; side += 2) {
    for (int far = 8; far <= 9; ++far) {
      double ms = 0;
      phrase    = (Phrase){0};
      for (int i = 0; i < 29; ++i) {
        add(ms, 200, 60);
        ms += i == 13                ? 540 // A rest of 340 ms after 200
              : i == 13 + side * far ? 750
                                     : 250;
      }
      breath_mark(&phrase, MS_PER_TICK);
      cr_assert_eq(phrase.notes[14].begins_phrase, far == 9, "%d", side * far);
    }
  }
}

/// Three times from onset to onset on each side tell whether one is long: the
/// middle of them is long here, but not if one more or less were counted.
Test(breath, beside_other_gaps)
{
  static const double rows[2][8] = {
    {200, 500, 200, 200, 200, 500, 500, 500},
    {500, 500, 500, 200, 200, 200, 500, 200},
  };
  for (unsigned row = 0; row < 2; ++row) {
    double ms = 0;
    phrase    = (Phrase){0};
    for (unsigned i = 0; i < 22; ++i) {
      add(ms, 150, 60);
      ms += i < 6 || i > 14 ? 350
            : i == 10       ? 580
                            : rows[row][i < 10 ? i - 6 : i - 7];
    }
    breath_mark(&phrase, MS_PER_TICK);
    cr_assert_not(phrase.notes[11].begins_phrase, "row %u", row);
  }
}
