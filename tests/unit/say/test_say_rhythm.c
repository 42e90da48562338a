// Rhythms made to fit a rung, by hand: what a teacher would make of them
// (common practice, no source).

#include "fixture.h"

#include "responder/say/frame.h"
#include "responder/say/rhythm.h"
#include "responder/say/room.h"
#include "responder/say/sketch.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { ROW_NOTES = 12 };

static Fixture fixture;
static Frame   frame;
static Sketch  sketch;

/// Onsets in twelfths of a beat.
typedef struct {
  char     name[64];
  unsigned rung;
  unsigned bars;
  unsigned n_in;
  int      in[ROW_NOTES]; ///< Ticks / 80
  unsigned n_out;
  int      out[ROW_NOTES];
} FitRow;

ParameterizedTestParameters(say_rhythm, fits)
{
  static FitRow rows[] = {
    {"quarters stay on the beat", 1, 2, 3, {0, 12, 24}, 3, {0, 12, 24}},
    {"eighths lead on to the beats", 1, 2, 4, {0, 6, 12, 18}, 3, {0, 12, 24}},
    {"a pair and a beat stay at the second",
     2,
     2,
     3,
     {0, 6, 12},
     3,
     {0, 6, 12}},
    {"an off-beat in the air goes on to the beat",
     2,
     2,
     2,
     {0, 18},
     2,
     {0, 24}},
    {"swung eighths: the same", 3, 2, 2, {0, 18}, 2, {0, 24}},
    {"off-beats stay at the fourth", 4, 2, 3, {6, 18, 30}, 3, {6, 18, 30}},
    {"triplets become eighths at the fourth",
     4,
     2,
     4,
     {0, 4, 8, 12},
     3,
     {0, 6, 12}},
    {"triplets stay at the fifth", 5, 2, 4, {0, 4, 8, 12}, 4, {0, 4, 8, 12}},
    {"a run of sixteenths becomes one of triplets at the fifth",
     5,
     2,
     5,
     {0, 3, 6, 9, 12},
     4,
     {0, 4, 8, 12}},
    {"a pair of sixteenths becomes eighths at the fifth",
     5,
     2,
     4,
     {0, 6, 9, 12},
     3,
     {0, 6, 12}},
    {"sixteenths stay at the sixth",
     6,
     2,
     5,
     {0, 3, 6, 9, 12},
     5,
     {0, 3, 6, 9, 12}},
  };
  return cr_make_param_array(FitRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
lay(const int* const parts, const unsigned n)
{
  sketch = (Sketch){.n_notes = n};
  for (unsigned i = 0; i < n; ++i) {
    const int next  = i + 1 < n ? parts[i + 1] : parts[i] + 6;
    sketch.notes[i] = (SketchNote){.tick   = frame.start + 80 * parts[i],
                                   .length = 80 * (next - parts[i])};
  }
}

static void
open_frame(const unsigned rung, const unsigned bars, Rng* const rng)
{
  const Rung all = {{4, (uint8_t)rung, 4, 1}};
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 0, bars, all, 1);
  frame_open(&frame, &fixture.request, rng);
}

ParameterizedTest(FitRow* row, say_rhythm, fits)
{
  for (unsigned seed = 0; seed < 20; ++seed) {
    Rng rng = rng_seed(seed, 1);
    open_frame(row->rung, row->bars, &rng);
    lay(row->in, row->n_in);
    rhythm_fit(&sketch, &frame, &rng);
    cr_assert_eq(
      sketch.n_notes, row->n_out, "%s: %u", row->name, sketch.n_notes);
    for (unsigned i = 0; i < row->n_out; ++i) {
      cr_assert_eq(sketch.notes[i].tick - frame.start,
                   80 * row->out[i],
                   "%s: note %u at %d",
                   row->name,
                   i,
                   (int)(sketch.notes[i].tick - frame.start));
    }
  }
}

Test(say_rhythm, a_full_call_gets_room)
{
  int      parts[32];
  unsigned n_breathing = 0;
  for (int i = 0; i < 32; ++i) {
    parts[i] = 6 * i;
  }
  for (unsigned seed = 0; seed < 50; ++seed) {
    Rng rng = rng_seed(seed, 1);
    open_frame(7, 4, &rng);
    lay(parts, 32);
    rhythm_fit(&sketch, &frame, &rng);
    cr_assert_geq(room_space(&sketch, &frame), 0.2);
    cr_assert_geq(sketch.n_notes, 12, "most of it is still there");
    bool breathes = false;
    for (unsigned i = 0; i + 1 < sketch.n_notes; ++i) {
      const SketchNote* const note = &sketch.notes[i];
      breathes |= note[1].tick - note->tick - note->length >= 480;
    }
    n_breathing += breathes;
    const SketchNote* const last = &sketch.notes[sketch.n_notes - 1];
    cr_assert_leq(last->tick + last->length, frame.end - frame.beat / 2);
  }
  cr_assert_gt(n_breathing, 15, "rests within, not only after");
}

Test(say_rhythm, no_more_notes_than_the_rung_has)
{
  int parts[32];
  for (int i = 0; i < 32; ++i) {
    parts[i] = 6 * i;
  }
  for (unsigned rung = 1; rung <= N_RHYTHM_RUNGS; ++rung) {
    Rng rng = rng_seed(rung, 1);
    open_frame(rung, 4, &rng);
    lay(parts, 32);
    rhythm_fit(&sketch, &frame, &rng);
    cr_assert_leq((float)sketch.n_notes,
                  4.0F * fixture.ladder.rhythm[rung - 1].onsets_per_bar);
  }
}

Test(say_rhythm, notes_rise_and_never_overlap)
{
  for (unsigned seed = 0; seed < 500; ++seed) {
    Rng      rng = rng_seed(seed, 1);
    int      parts[24];
    unsigned n  = 0;
    int      at = (int)rng_below(&rng, 12);
    while (n < 24 && at < 4 * 48) {
      parts[n++] = at;
      at += 1 + (int)rng_below(&rng, 14);
    }
    open_frame(1 + seed % N_RHYTHM_RUNGS, 4, &rng);
    lay(parts, n);
    rhythm_fit(&sketch, &frame, &rng);
    cr_assert_gt(sketch.n_notes, 0);
    Tick until = frame.start;
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      cr_assert_geq(sketch.notes[i].tick, until);
      cr_assert_geq(sketch.notes[i].length, 1);
      until = sketch.notes[i].tick + sketch.notes[i].length;
    }
    cr_assert_lt(until, frame.end);
  }
}

/// At the rung of groups across the bar, drawn rhythms have some.
Test(say_rhythm, groups_of_three_run_across_the_bar)
{
  unsigned crosses = 0;
  for (unsigned seed = 0; seed < 60; ++seed) {
    Rng rng = rng_seed(seed, 1);
    open_frame(N_RHYTHM_RUNGS, 4, &rng);
    sketch = (Sketch){0};
    rhythm_draw(&sketch,
                &frame,
                frame.start,
                frame.end,
                14,
                (SketchNote){.length = 480},
                &rng);
    bool is_cross = sketch.n_notes > 6;
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      is_cross = is_cross &&
                 (sketch.notes[i].tick - frame.start) % 1440 % 480 == 0 &&
                 (sketch.notes[i].tick - frame.start) % 1440 <= 480;
    }
    crosses += is_cross;
  }
  cr_assert_gt(crosses, 10);
  cr_assert_lt(crosses, 55);
}
