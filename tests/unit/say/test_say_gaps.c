// How alike rhythms are from note to note, counted by hand.

#include "responder/say/gaps.h"

#include <criterion/criterion.h>

enum { BEAT = 960 };

static Idea
idea_at(const Tick* const ticks, const unsigned n)
{
  Idea idea = {.n_notes = n};
  for (unsigned i = 0; i < n; ++i) {
    idea.ticks[i] = ticks[i];
  }
  return idea;
}

static const Tick even[]  = {0, BEAT, 2 * BEAT, 3 * BEAT, 4 * BEAT};
static const Tick later[] = {7 * BEAT,
                             8 * BEAT,
                             9 * BEAT,
                             10 * BEAT,
                             11 * BEAT};
static const Tick last[]  = {0, BEAT, 2 * BEAT, 3 * BEAT, 5 * BEAT};
static const Tick split[] = {0, BEAT / 2, BEAT, 2 * BEAT, 3 * BEAT, 4 * BEAT};

Test(say_gaps, places_do_not_count)
{
  const Idea a = idea_at(even, 5);
  const Idea b = idea_at(later, 5);
  cr_expect_float_eq(gaps_likeness(&a, &b), 1.0, 1e-9);
}

Test(say_gaps, each_gap_changed_put_in_or_left_out_counts)
{
  const Idea a = idea_at(even, 5);
  const Idea b = idea_at(last, 5);
  const Idea c = idea_at(split, 6);
  cr_expect_float_eq(gaps_likeness(&a, &b), 3.0 / 4.0, 1e-9);
  cr_expect_float_eq(gaps_likeness(&a, &c), 3.0 / 5.0, 1e-9); // One, and one in
  cr_expect_float_eq(gaps_likeness(&c, &a), 3.0 / 5.0, 1e-9);
}

Test(say_gaps, one_note_has_no_rhythm)
{
  const Idea a = idea_at(even, 5);
  const Idea b = idea_at(even, 1);
  cr_expect_float_eq(gaps_likeness(&a, &b), 0.0, 1e-9);
  cr_expect_float_eq(gaps_likeness(&b, &b), 0.0, 1e-9);
}
