// Both sides of each number that makes a breath (breath.c): WEIGHT.seconds,
// beats, gaps, others, length, gap, leap, threshold; FEW.notes, weight;
// LEAST_OTHER_S, NEIGHBOURS, GAPS_BEFORE, GAPS_AFTER, WIDEST. The weights are a
// regression over annotated solos; on which side of the threshold a rest lies
// is worked out by hand from the sum that breath.c gives, a tenth or less from
// it where no other name is given.

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
/// the seventeenth.
typedef struct {
  char     name[40];
  double   gap, length; ///< Of the line, in ms
  double   last;        ///< Length of the note before the rest
  double   rest;
  unsigned leap;
  double   other; ///< Rest after the seventeenth; 0: as in the line
  bool     is_breath;
} LineRow;

ParameterizedTestParameters(breath, lines)
{
  static LineRow rows[] = {
    {"a short note, a rest, an octave", 1200, 1140, 342, 390, 12, 0, true},
    {"fast, a rest of two notes", 100, 95, 28, 190, 4, 0, false},
    {"a long note, a longer rest nearby", 200, 190, 760, 290, 4, 1000, true},
    {"a leap of a sixth, hardly a rest", 250, 200, 200, 210, 8, 0, false},
    {"... a little more rest", 250, 200, 200, 218, 8, 0, true},
    {"two octaves are no more than one", 250, 200, 200, 194, 24, 0, true},
    {"... with less rest", 250, 200, 200, 187, 24, 0, false},
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
          : i == 16 && row->other > 0 ? row->length + row->other
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

/// A line of thirty quavers with two rests in it.
typedef struct {
  char     name[40];
  unsigned first; ///< The note before the first rest
  double   first_rest;
  unsigned second;
  double   second_rest;
  unsigned n_breaths;
} FewRow;

ParameterizedTestParameters(breath, few_notes)
{
  static FewRow rows[] = {
    {"five notes between two rests", 9, 500, 14, 400, 1},
    {"... and a little more rest", 9, 500, 14, 405, 2},
    {"six notes", 9, 500, 15, 385, 2},
    {"a note alone", 9, 705, 10, 705, 1},
    {"... and more rest", 9, 725, 10, 725, 2},
    {"two notes begin", 1, 380, 1, 380, 0},
    {"... and a little more rest", 1, 390, 1, 390, 1},
    {"the last phrase may go on", 28, 275, 28, 275, 1},
  };
  return cr_make_param_array(FewRow, rows, sizeof(rows) / sizeof(*rows));
}

/// A phrase of few notes needs more of a rest: a quarter of soloists' phrases
/// have fewer than 8 notes, one in twenty fewer than 3 (6,743 phrases of 298
/// solos, Weimar Jazz Database 1.2).
ParameterizedTest(FewRow* row, breath, few_notes)
{
  double ms = 0;
  phrase    = (Phrase){0};
  for (unsigned i = 0; i < 30; ++i) {
    add(ms, 200, 60);
    ms += i == row->first    ? 200 + row->first_rest
          : i == row->second ? 200 + row->second_rest
                             : 250;
  }
  breath_mark(&phrase, MS_PER_TICK);
  unsigned n_breaths = 0;
  for (unsigned i = 1; i < phrase.n_notes; ++i) {
    n_breaths += phrase.notes[i].begins_phrase;
  }
  cr_assert_eq(n_breaths, row->n_breaths, "%s: %u", row->name, n_breaths);
}

/// Of two beginnings that lie too close the one that says more stays, and what
/// was marked before is gone.
Test(breath, the_better_of_two)
{
  double ms = 0;
  phrase    = (Phrase){0};
  for (unsigned i = 0; i < 30; ++i) {
    add(ms, 200, 60);
    phrase.notes[i].begins_phrase = true;
    ms += i == 9 ? 640 : i == 11 ? 660 : 250;
  }
  breath_mark(&phrase, MS_PER_TICK);
  for (unsigned i = 0; i < 30; ++i) {
    cr_assert_eq(phrase.notes[i].begins_phrase, i == 0 || i == 12, "%u", i);
  }
}
