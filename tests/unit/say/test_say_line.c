// Lines before anything is chosen among them: every one drawn keeps the rules.

#include "fixture.h"

#include "responder/say/frame.h"
#include "responder/say/line.h"
#include "responder/say/moves.h"
#include "responder/say/plain.h"
#include "responder/say/rhythm.h"

#include <criterion/criterion.h>

#include <stdlib.h>

enum {
  DRAWS  = 4,
  BEAT   = 960,
  LEVELS = 8,
};

static Fixture     fixture;
static Frame       frame;
static Sketch      sketch;
static Source      source;
static PathProblem problem;
static PathSolver  solver;
static uint8_t     line[PATH_NOTE_CAPACITY];

/// Sketch a move on a made call and solve it; false if it is not possible.
static bool
pose_made(const unsigned seed, const Rung rung, const Move move, Rng* const rng)
{
  static const Source none = {0};
  fixture_open(&fixture, seed % 3, 1 + seed % 4, 2, rung, seed);
  frame_open(&frame, &fixture.request, rng);
  source              = source_of_phrase(&fixture.call);
  const Workshop shop = {&frame, &source, &none, rng};
  if (!move_sketch(&sketch, &shop, move)) {
    return false;
  }
  rhythm_fit(&sketch, &frame, rng);
  line_prepare(&problem);
  return line_solve(&problem, &solver, &frame, &sketch, rng);
}

static Tick
chord_tick(const unsigned i)
{
  const bool last = i + 1 == sketch.n_notes;
  return hear_chord_tick(&fixture.chart,
                         sketch.notes[i].tick,
                         sketch.notes[i].length,
                         last ? INT64_MAX : sketch.notes[i + 1].tick);
}

static Role
role_of(const unsigned i)
{
  return hear_role(&fixture.chart, chord_tick(i), line[i]);
}

static void
check_line(const Rung rung)
{
  const unsigned n    = sketch.n_notes;
  const unsigned last = n - 1;
  cr_assert_leq(role_of(last), ROLE_CHORD_TONE);
  for (unsigned i = 0; i < n; ++i) {
    cr_assert_geq(line[i], problem.lowest);
    cr_assert_lt(line[i], problem.lowest + problem.n_pitches);
    if (role_of(i) == ROLE_OUTSIDE) {
      cr_assert_lt(i, last);
      cr_assert_leq(sketch.notes[i + 1].tick - sketch.notes[i].tick, BEAT);
      cr_assert_leq(abs(line[i + 1] - line[i]), 2);
      cr_assert_leq(role_of(i + 1), ROLE_CHORD_TONE);
    }
    if (role_of(i) == ROLE_SCALE_TONE && rung.level[DIMENSION_NOTES] == 5) {
      cr_assert_leq(abs(line[i + 1] - line[i]), 2);
    }
  }
}

Test(say_line, every_line_keeps_the_rules)
{
  unsigned n_outside = 0;
  for (unsigned seed = 0; seed < 240; ++seed) {
    const uint8_t level = (uint8_t)(1 + seed % LEVELS);
    const Rung    rung  = {{level, 6, 6, 1}};
    Rng           rng   = rng_seed(seed, 1);
    if (!pose_made(seed, rung, (Move)(seed / LEVELS % N_MOVES), &rng)) {
      continue;
    }
    for (unsigned draw = 0; draw < DRAWS; ++draw) {
      path_draw(&solver, &problem, &rng, line);
      check_line(rung);
      for (unsigned i = 0; i < sketch.n_notes; ++i) {
        n_outside += role_of(i) == ROLE_OUTSIDE;
      }
    }
  }
  cr_assert_gt(n_outside, 20, "there is something to resolve");
}

Test(say_line, a_chorus_ends_on_the_root)
{
  for (unsigned seed = 0; seed < 80; ++seed) {
    Rng rng = rng_seed(seed, 1);
    if (!pose_made(seed, (Rung){{4, 6, 6, 1}}, MOVE_NEW_NOTES, &rng)) {
      continue;
    }
    frame.must_end_on_root = true;
    cr_assert(line_solve(&problem, &solver, &frame, &sketch, &rng));
    path_draw(&solver, &problem, &rng, line);
    cr_assert_eq(role_of(sketch.n_notes - 1), ROLE_ROOT);
  }
}

/// At 132 bpm sixteenths come every 114 ms: no hand of a fifth leaps wider.
Test(say_line, fast_neighbours_lie_under_the_hand)
{
  for (unsigned seed = 0; seed < 80; ++seed) {
    Rng rng = rng_seed(seed, 1);
    if (!pose_made(seed, (Rung){{8, 6, 6, 1}}, MOVE_REPEAT, &rng)) {
      continue;
    }
    fixture.request.hand_span = 5;
    cr_assert(line_solve(&problem, &solver, &frame, &sketch, &rng));
    path_draw(&solver, &problem, &rng, line);
    for (unsigned i = 1; i < sketch.n_notes; ++i) {
      const Tick gap = sketch.notes[i].tick - sketch.notes[i - 1].tick;
      cr_assert(gap > 480 || abs(line[i] - line[i - 1]) <= 5);
    }
  }
}

/// A line of chord tones of C7, wished for exactly, comes out as it is wished.
Test(say_line, what_is_wished_and_allowed_is_played)
{
  static const uint8_t wishes[] = {60, 64, 67, 70, 67, 64, 60};
  unsigned             same     = 0;
  unsigned             all      = 0;
  for (unsigned seed = 0; seed < 40; ++seed) {
    Rng rng = rng_seed(seed, 1);
    fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, (Rung){{4, 4, 4, 1}}, seed);
    frame_open(&frame, &fixture.request, &rng);
    sketch = (Sketch){.n_notes = sizeof(wishes)};
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      sketch.notes[i] = (SketchNote){.tick       = frame.start + 480 * (Tick)i,
                                     .length     = 480,
                                     .pitch      = wishes[i],
                                     .pitch_fall = 0.35F,
                                     .interval_fall = 0.45F,
                                     .from_call     = true};
    }
    line_prepare(&problem);
    cr_assert(line_solve(&problem, &solver, &frame, &sketch, &rng));
    path_draw(&solver, &problem, &rng, line);
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      same += line[i] == wishes[i];
      ++all;
    }
  }
  cr_assert_gt((double)same / all, 0.9);
}

/// Leaps are answered by a step back more often than not (published for jazz
/// solos: 72 % turn back after a leap of a fifth or more).
Test(say_line, a_leap_turns_back)
{
  unsigned back  = 0;
  unsigned leaps = 0;
  for (unsigned seed = 0; seed < 400; ++seed) {
    Rng rng = rng_seed(seed, 1);
    if (!pose_made(seed, (Rung){{8, 6, 6, 1}}, MOVE_NEW_NOTES, &rng)) {
      continue;
    }
    path_draw(&solver, &problem, &rng, line);
    for (unsigned i = 2; i < sketch.n_notes; ++i) {
      const int leap = line[i - 1] - line[i - 2];
      const int next = line[i] - line[i - 1];
      if (abs(leap) >= 7) {
        ++leaps;
        back += leap * next < 0;
      }
    }
  }
  cr_assert_gt(leaps, 30);
  cr_assert_gt((double)back / leaps, 0.65, "%u of %u", back, leaps);
}

/// A bass line, asked of a learner who plays from C4 up, comes an octave or two
/// higher: the same notes.
Test(say_line, a_call_out_of_range_moves_by_octaves)
{
  static const uint8_t low[] = {36, 40, 43, 46, 43, 40, 36};
  Rng                  rng   = rng_seed(1, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, (Rung){{4, 4, 4, 1}}, 1);
  fixture.request.lowest  = 60;
  fixture.request.highest = 84;
  frame_open(&frame, &fixture.request, &rng);
  sketch = (Sketch){.n_notes = sizeof(low)};
  for (unsigned i = 0; i < sketch.n_notes; ++i) {
    sketch.notes[i] = (SketchNote){.tick          = frame.start + 480 * (Tick)i,
                                   .length        = 480,
                                   .pitch         = low[i],
                                   .pitch_fall    = 0.35F,
                                   .interval_fall = 0.45F};
  }
  line_prepare(&problem);
  cr_assert(line_solve(&problem, &solver, &frame, &sketch, &rng));
  for (unsigned i = 0; i < sketch.n_notes; ++i) {
    cr_assert_eq(sketch.notes[i].pitch % 12, low[i] % 12);
    cr_assert_geq(sketch.notes[i].pitch, 60);
  }
}

Test(say_line, the_plain_answer_has_many_forms_all_of_the_root)
{
  Rng rng = rng_seed(1, 1);
  fixture_open(&fixture, 0, 1, 4, (Rung){{1, 1, 1, 1}}, 1);
  frame_open(&frame, &fixture.request, &rng);
  for (unsigned variant = 0; variant < PLAIN_ROOTS; ++variant) {
    plain_root(&sketch, &frame, variant, line);
    cr_assert_gt(sketch.n_notes, 0);
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      cr_assert_eq(role_of(i), ROLE_ROOT);
      cr_assert_lt(sketch.notes[i].tick, (frame.start + frame.end) / 2);
      cr_assert_geq(line[i], fixture.request.lowest);
      cr_assert_leq(line[i], fixture.request.highest);
    }
  }
}
