// How long the last notes of phrases last (by taste; no source).

#include "fixture.h"

#include "responder/say/finish.h"

#include <criterion/criterion.h>

enum { BEAT = TICKS_PER_QUARTER, BAR = 4 * BEAT, SEEDS = 400 };

static Fixture fixture;
static Frame   frame;
static Draft   draft;
static Sketch  sketch;

/// How many ends of phrases are longer than a beat, and than two.
typedef struct {
  unsigned over_one;
  unsigned over_two;
} Long;

static void
count(Long* const ends, const Tick length)
{
  ends->over_one += length > BEAT ? 1 : 0;
  ends->over_two += length > 2 * BEAT ? 1 : 0;
}

/// End a phrase in the first bar and one in the third, with room after
/// both, each led on to a beat by a quaver.
static void
count_long(const Rung rung, Long* const inner, Long* const last)
{
  *inner = *last = (Long){0, 0};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng = rng_seed(seed, 1);
    fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 4, rung, 1);
    frame_open(&frame, &fixture.request, &rng);
    draft = (Draft){.n_notes = 0};
    for (unsigned i = 0; i < 4; ++i) {
      const Tick tick = frame.start + i / 2 * 2 * BAR + (1 + i % 2) * BEAT / 2;
      draft_add(&draft, tick, i / 2);
    }
    draft_close(&draft, &frame);
    finish_lengths(&sketch, &frame, &draft, &rng);
    count(inner, sketch.notes[1].length);
    count(last, sketch.notes[3].length);
  }
}

/// A free line's last note may ring for more than two beats, a plain one's
/// does not; within the line a plain one's may for more than one.
Test(say_finish, a_free_line_may_end_long)
{
  Long inner;
  Long last;
  count_long((Rung){{8, 7, 6, 1}}, &inner, &last);
  cr_expect_gt(last.over_two, SEEDS / 5, "%u", last.over_two);
  cr_expect_lt(last.over_two, SEEDS / 2, "%u", last.over_two);
  cr_expect_eq(inner.over_one, 0);

  count_long((Rung){{4, 7, 6, 1}}, &inner, &last);
  cr_expect_gt(last.over_one, SEEDS / 2, "%u", last.over_one);
  cr_expect_eq(last.over_two, 0);
  cr_expect_gt(inner.over_one, SEEDS / 3, "%u", inner.over_one);
  cr_expect_eq(inner.over_two, 0);
}

/// Return the length of a phrase's last note before the next phrase, so much
/// later.
static Tick
length_before(const Tick gap, const bool bare, const unsigned seed)
{
  const Rung top = {{8, 7, 6, 1}};
  Rng        rng = rng_seed(seed, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 4, top, 1);
  frame_open(&frame, &fixture.request, &rng);
  draft                                      = (Draft){.n_notes = 0};
  draft_add(&draft, frame.start, 0)->is_bare = bare;
  draft_add(&draft, frame.start + gap, 1);
  draft_close(&draft, &frame);
  finish_lengths(&sketch, &frame, &draft, &rng);
  return sketch.notes[0].length;
}

/// Where more follows at once nothing is clipped; where few notes are said they
/// ring.
Test(say_finish, room_is_left_or_filled)
{
  Tick bare  = 0;
  Tick usual = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    cr_assert_eq(length_before(BEAT / 2, false, seed), BEAT / 2);
    cr_assert_leq(length_before(BEAT, false, seed), BEAT / 2);
    bare += length_before(BAR, true, seed);
    usual += length_before(BAR, false, seed);
  }
  cr_expect_gt(bare, 3 * usual / 2);
}
