// Every answer holds to its ladder, whatever a teacher may have written there:
// ladders by chance, calls by chance, and the answers' own notes counted here.

#include "fixture.h"
#include "holds.h"

#include "support/ladders.h"

#include <criterion/criterion.h>

enum {
  LADDERS = 200,
  CALLS   = 5, // For each
  SLICES  = 6,
};

static Fixture fixture;

Test(say_ladders, every_answer_holds_to_its_ladder)
{
  for (unsigned i = 0; i < LADDERS; ++i) {
    Rng          rng    = rng_seed(i, 9);
    const Ladder ladder = ladders_draw(&rng);
    for (unsigned k = 0; k < CALLS; ++k) {
      const unsigned bars  = 1U << rng_below(&rng, 3);
      const unsigned chart = k < 3 ? k : FIXTURE_ONE_CHORD;
      fixture_open(&fixture,
                   chart,
                   rng_below(&rng, N_FIXTURE_CALLS),
                   bars,
                   holds_draw_rung(&rng),
                   i * CALLS + k);
      fixture.ladder                 = ladder;
      fixture.request.turn_in_chorus = k % 4;
      fixture_answer(&fixture, SLICES, rng);
      holds_to_ladder(&fixture, &fixture.answer, bars);
    }
  }
}
