// Rhythms drawn beat by beat (by taste; no source).

#include "fixture.h"

#include "responder/say/beats.h"
#include "responder/say/treat.h"

#include <criterion/criterion.h>

enum { BARS = 4, BEAT = TICKS_PER_QUARTER, BAR = 4 * BEAT, SEEDS = 400 };

static Fixture   fixture;
static Frame     frame;
static BeatTable table;
static Draft     draft;

/// How many beats of a place in the bar no note begins on.
typedef struct {
  unsigned first;
  unsigned third;
} Empty;

static bool
has_onset(const Tick tick)
{
  unsigned i = 0;
  while (i < draft.n_notes && draft.notes[i].tick != tick) {
    ++i;
  }
  return i < draft.n_notes;
}

/// Draw a rhythm of one phrase, with two quavers planted somewhere.
///
/// @return Whether it has room, from `frame.start` on.
static bool
draw(const Rung rung, const Texture texture, const Tick to, const unsigned seed)
{
  static const Cell cell   = {.n_notes = 2, .offsets = {0, BEAT / 2}};
  const Intent      intent = {.notes = 20, .texture = texture};
  const Planting    wanted = {.cell = &cell};
  Rng               rng    = rng_seed(seed, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, BARS, rung, 1);
  frame_open(&frame, &fixture.request, &rng);
  const Plan plan = {
    .n_spans = 1, .spans = {{.from = frame.start, .goal = frame.start + to}}};
  beats_open(&table, &frame, texture);
  return beats_draw(&draft, &frame, &table, &plan, &intent, &wanted, &rng);
}

/// Count in the bars between the first and the last.
static Empty
count_empty(const Rung rung)
{
  Empty empty = {0, 0};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    if (draw(rung, TEXTURE_PLAIN, BARS * BAR - 2 * BEAT, seed)) {
      const Tick last = frame.start + (BARS - 1) * BAR;
      for (Tick bar = frame.start + BAR; bar < last; bar += BAR) {
        empty.first += has_onset(bar) ? 0 : 1;
        empty.third += has_onset(bar + 2 * BEAT) ? 0 : 1;
      }
    }
  }
  return empty;
}

/// Free lines begin a bar without a note more often than its second half;
/// others have no such wish.
Test(say_beats, free_lines_run_over_the_bar)
{
  const Empty free  = count_empty((Rung){{8, 7, 6, 1}});
  const Empty plain = count_empty((Rung){{4, 7, 6, 1}});
  cr_expect_gt(
    4 * free.first, 5 * free.third, "%u, %u", free.first, free.third);
  cr_expect_lt(
    4 * plain.first, 5 * plain.third, "%u, %u", plain.first, plain.third);
}

/// Return how many drawn rhythms have a beat of four sixteenths.
static unsigned
count_fours(const Rung rung)
{
  unsigned n = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const bool has_room = draw(rung, TEXTURE_SIXTEENTHS, 3 * BAR, seed);
    bool       four     = false;
    for (Tick in = 0; in < BARS * BAR && has_room; in += BEAT) {
      const Tick beat = frame.start + in;
      four =
        four || (has_onset(beat + BEAT / 4) && has_onset(beat + 3 * BEAT / 4));
    }
    n += four ? 1 : 0;
  }
  return n;
}

/// Not all four in a beat before the last rung.
Test(say_beats, four_sixteenths_are_for_the_last_rung)
{
  cr_expect_eq(count_fours((Rung){{8, 6, 6, 1}}), 0);
  cr_expect_gt(count_fours((Rung){{8, 7, 6, 1}}), SEEDS / 8);
}

/// Where a cell twice and groups across the bar have no room side by side, the
/// cell stands once.
Test(say_beats, groups_across_the_bar_have_room_beside_a_cell)
{
  enum { TRIES = 40 };
  static const Cell quavers = {.n_notes = 3, .offsets = {0, BEAT / 2, BEAT}};
  const Rung        top     = {{8, 7, 6, 4}};
  const Intent      intent  = {.notes = 20, .texture = TEXTURE_ACROSS};
  const Planting    wanted  = {.cell = &quavers, .twice = true};
  unsigned          n       = 0;
  for (unsigned seed = 0; seed < TRIES; ++seed) {
    Rng rng = rng_seed(seed, 1);
    fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, top, 1);
    frame_open(&frame, &fixture.request, &rng);
    const Plan plan = {.n_spans = 1,
                       .spans   = {{.from = frame.start + BEAT / 2,
                                    .goal = frame.start + BAR + 2 * BEAT}}};
    beats_open(&table, &frame, intent.texture);
    n += beats_draw(&draft, &frame, &table, &plan, &intent, &wanted, &rng) &&
         draft_times_planted(&draft) == 1;
  }
  cr_assert_eq(n, TRIES, "%u", n);
}
