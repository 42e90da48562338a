// Both sides of each number that makes phrases alike (ideas.c): RHYTHM.near,
// near_credit, chance, chance_most, beat_moved, half_moved, moved;
// INTERVAL.semitone, whole, same_way, other_way, gap, chance; OWN_RHYTHM. The
// numbers are common practice, no source; what comes of them is worked out by
// hand from what ideas.h and the tables say.

#include "responder/hear/ideas.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { MOST = 16 };

typedef struct {
  char     name[40];
  unsigned n_a, n_b;
  Tick     a[MOST], b[MOST];
  double   likeness;
} RhythmRow;

#define RUN                                                                    \
  0, 120, 240, 360, 480, 600, 720, 840, 960, 1080, 1200, 1320, 1440, 1560,     \
    1680, 1800

ParameterizedTestParameters(ideas_bounds, rhythms)
{
  static RhythmRow rows[] = {
    // (2.4 / 3 - c) / (1 - c), where chance c = .85 * 12 / 30
    {"a sixth late is partly the same",
     3,
     3,
     {0, 960, 1920},
     {0, 1120, 1920},
     0.697},
    {"... and no later", 3, 3, {0, 960, 1920}, {0, 1121, 1920}, 0.495},
    {"moved by a beat", 3, 3, {0, 480, 1440}, {960, 1440, 2400}, 0.85},
    {"moved by half a beat", 3, 3, {0, 480, 1440}, {480, 960, 1920}, 0.75},
    {"moved by a quarter", 3, 3, {0, 480, 1440}, {240, 720, 1680}, 0.5},
    // Thirty-seconds agree by chance, all but a tenth: (f - .9) / .1, where f =
    // (15 + .4 + 15) / 31
    {"so dense that all is chance",
     16,
     15,
     {RUN},
     {0,
      120,
      240,
      360,
      480,
      600,
      720,
      840,
      960,
      1200,
      1320,
      1440,
      1560,
      1680,
      1800},
     0.806},
  };
  return cr_make_param_array(RhythmRow, rows, sizeof(rows) / sizeof(*rows));
}

static Idea
idea_at(const Tick* const ticks, const unsigned n)
{
  Idea idea = {.n_notes = n};
  for (unsigned i = 0; i < n; ++i) {
    idea.ticks[i]   = ticks[i];
    idea.pitches[i] = 60;
  }
  return idea;
}

ParameterizedTest(RhythmRow* row, ideas_bounds, rhythms)
{
  const Idea   a     = idea_at(row->a, row->n_a);
  const Idea   b     = idea_at(row->b, row->n_b);
  const double found = (double)idea_likeness(&a, &b).rhythm;
  cr_assert_float_eq(found, row->likeness, 0.01, "%s: %g", row->name, found);
}

typedef struct {
  char     name[32];
  unsigned n_a, n_b;
  uint8_t  a[4], b[4];
  double   likeness;
} PitchRow;

ParameterizedTestParameters(ideas_bounds, pitches)
{
  // Twice the credit over the number of intervals, less what chance has: m
  // becomes (m - .15) / .85
  static PitchRow rows[] = {
    {"a semitone apart", 3, 3, {60, 62, 64}, {60, 62, 65}, 0.824},      // m .85
    {"a whole tone apart", 3, 3, {60, 62, 64}, {60, 62, 66}, 0.647},    // m .7
    {"the same way", 3, 3, {60, 62, 64}, {60, 62, 69}, 0.412},          // m .5
    {"the other way", 4, 4, {60, 62, 64, 66}, {60, 62, 60, 62}, 0.294}, // m .4
    {"one is missing", 4, 3, {60, 62, 64, 66}, {60, 62, 64}, 0.482},    // m .56
  };
  return cr_make_param_array(PitchRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(PitchRow* row, ideas_bounds, pitches)
{
  Idea a = {.n_notes = row->n_a};
  Idea b = {.n_notes = row->n_b};
  for (unsigned i = 0; i < 4; ++i) {
    a.ticks[i]   = i * 960;
    b.ticks[i]   = i * 960;
    a.pitches[i] = row->a[i];
    b.pitches[i] = row->b[i];
  }
  const double found = (double)idea_likeness(&a, &b).pitch;
  cr_assert_float_eq(found, row->likeness, 0.005, "%s: %g", row->name, found);
}

/// A rhythm is one's own if a fifth of its gaps differ from the one before;
/// half of that, and it counts half. Nothing else is alike.
Test(ideas_bounds, a_rhythm_of_ones_own)
{
  for (unsigned n_changes = 1; n_changes <= 2; ++n_changes) {
    Idea a = {.n_notes = 12};
    for (unsigned i = 0; i < 12; ++i) {
      const bool is_late = i == 11 || (n_changes == 2 && i == 10);
      a.ticks[i]   = i * 480 + (is_late ? (n_changes == 2 ? 240 : 480) : 0);
      a.pitches[i] = (uint8_t)(60 + 2 * i);
    }
    if (n_changes == 2) { // The gap before the last but one alone
      a.ticks[11] = a.ticks[10] + 480;
    }
    Idea b = a;
    for (unsigned i = 0; i < 12; ++i) {
      b.pitches[i] = (uint8_t)(90 - 2 * i);
    }
    const Likeness found = idea_likeness(&a, &b);
    cr_assert_float_eq(found.rhythm, 1.0F, 1e-3F);
    cr_assert_float_eq(found.whole, n_changes == 1 ? 0.5F : 1.0F, 1e-3F);
  }
}
