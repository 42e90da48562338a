// Every idea holds to its ladder, whatever a teacher may have written there.

#include "responder/ideas/develop.h"

#include "fixture.h"
#include "holds.h"

#include "support/ladders.h"

#include <criterion/criterion.h>

enum { LADDERS = 60, COUNT = 8 };

static Fixture      fixture;
static DevelopWork  work;
static Developments found;

Test(ideas_ladders, every_idea_holds_to_its_ladder)
{
  unsigned n_found = 0;
  for (unsigned i = 0; i < LADDERS; ++i) {
    Rng            rng    = rng_seed(i, 13);
    const Ladder   ladder = ladders_draw(&rng);
    const unsigned bars   = 1U << rng_below(&rng, 3);
    fixture_open(&fixture,
                 i % 4 ? i % 3 : FIXTURE_ONE_CHORD,
                 rng_below(&rng, N_FIXTURE_CALLS),
                 bars,
                 holds_draw_rung(&rng),
                 i);
    fixture.ladder = ladder;
    fixture.request.end -= fixture.request.start; // Over the call's own bars
    fixture.request.start = 0;
    develop(&found, &work, &fixture.request, COUNT, i);
    for (unsigned k = 0; k < found.n; ++k) {
      holds_to_ladder(&fixture, &found.ways[k].answer, bars);
    }
    n_found += found.n;
  }
  cr_assert_gt(n_found, 2 * LADDERS); // Not by saying nothing
}
