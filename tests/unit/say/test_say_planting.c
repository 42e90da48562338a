// Where a cell of the call stands in an answer.

#include "fixture.h"

#include "responder/say/planting.h"

#include <criterion/criterion.h>

enum { BEAT = TICKS_PER_QUARTER, BAR = 4 * BEAT, SEEDS = 40 };

static Fixture fixture;
static Frame   frame;

/// Plant a cell of three notes somewhere in a line of two bars, at a rung that
/// has every division.
static Plants
plant(const Cell* const cell, const unsigned seed)
{
  const Rung rung = {{8, 7, 6, 1}};
  Plants     plants;
  Rng        rng = rng_seed(seed, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, rung, 1);
  frame_open(&frame, &fixture.request, &rng);
  const Tick     start  = frame.start;
  const Plan     plan   = {.n_spans = 1,
                           .spans   = {{.from = start, .goal = start + 2 * BAR}}};
  const Planting wanted = {.cell = cell, .twice = true};
  cr_assert(planting_draw(&plants, &frame, &plan, &wanted, &rng));
  return plants;
}

/// Half a beat later the last two thirds of a beat would be another figure, and
/// none that is played; quavers may go there.
Test(say_planting, triplets_keep_their_place_in_the_beat)
{
  const Cell triplets = {
    .n_notes = 3, .at = BEAT / 3, .offsets = {0, BEAT / 3, BEAT * 2 / 3}};
  const Cell quavers = {.n_notes = 3, .at = 0, .offsets = {0, BEAT / 2, BEAT}};
  unsigned   moved   = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Plants fine  = plant(&triplets, seed);
    const Plants plain = plant(&quavers, seed);
    for (unsigned i = 0; i < fine.n; ++i) {
      cr_assert_eq(frame_in_beat(&frame, fine.plants[i].tick), BEAT / 3);
    }
    for (unsigned i = 0; i < plain.n; ++i) {
      moved += frame_in_beat(&frame, plain.plants[i].tick) != 0;
    }
  }
  cr_assert_gt(moved, 0);
}

/// The second time it is clear of the first.
Test(say_planting, twice_is_apart)
{
  const Cell quavers = {.n_notes = 3, .at = 0, .offsets = {0, BEAT / 2, BEAT}};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Plants plants = plant(&quavers, seed);
    cr_assert_eq(plants.n, 2);
    const Tick apart = plants.plants[1].tick - plants.plants[0].tick;
    cr_assert_geq(apart < 0 ? -apart : apart, BEAT + BEAT / 2);
  }
}
