// How alike rhythms are from note to note, counted by hand.

#include "responder/say/gaps.h"

#include <criterion/criterion.h>

enum { BEAT = 960 };

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
  cr_expect_float_eq(gaps_likeness(even, 5, later, 5), 1.0, 1e-9);
}

Test(say_gaps, each_gap_changed_put_in_or_left_out_counts)
{
  cr_expect_float_eq(gaps_likeness(even, 5, last, 5), 3.0 / 4.0, 1e-9);
  // One changed, and one put in
  cr_expect_float_eq(gaps_likeness(even, 5, split, 6), 3.0 / 5.0, 1e-9);
  cr_expect_float_eq(gaps_likeness(split, 6, even, 5), 3.0 / 5.0, 1e-9);
}

Test(say_gaps, one_note_has_no_rhythm)
{
  cr_expect_float_eq(gaps_likeness(even, 5, even, 1), 0.0, 1e-9);
  cr_expect_float_eq(gaps_likeness(even, 1, even, 1), 0.0, 1e-9);
}
