// The note a phrase aims at: common practice, no source.

#include "fixture.h"

#include <criterion/criterion.h>

static Fixture fixture;

static unsigned
target_of_notes(void)
{
  return fixture_hear_written(&fixture, 2)->target;
}

Test(target, the_last_long_root)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 400, 67);
  fixture_add(&fixture, 480, 400, 65);
  fixture_add(&fixture, 960, 400, 64);
  fixture_add(&fixture, 1440, 400, 62);
  fixture_add(&fixture, 1920, 1800, 60);
  cr_assert_eq(target_of_notes(), 4);
}

/// A throw-away off-beat after a long root on the beat is not what it aimed at.
Test(target, a_long_root_before_a_short_tail)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 400, 64);
  fixture_add(&fixture, 480, 400, 62);
  fixture_add(&fixture, 960, 1900, 60);
  fixture_add(&fixture, 5280, 150, 66);
  cr_assert_eq(target_of_notes(), 2);
}

Test(target, stress_tells_between_equals)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 900, 67);
  fixture_add(&fixture, 960, 900, 67);
  fixture_add(&fixture, 3840, 900, 67);
  fixture_add(&fixture, 7200, 200, 66);
  fixture_add(&fixture, 7440, 200, 65);
  fixture.notes[0].velocity = 120;
  const unsigned loud_first = target_of_notes();
  fixture.notes[0].velocity = 80;
  fixture.notes[2].velocity = 120;
  cr_assert_eq(target_of_notes(), 2);
  cr_assert_neq(loud_first, 3);
}

Test(target, a_single_note)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 1440, 200, 61);
  cr_assert_eq(target_of_notes(), 0);
}

Test(target, never_an_ornament)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 860, 90, 63);
  fixture_add(&fixture, 960, 900, 64);
  fixture.places[0]         = 960;
  fixture.ornaments[0]      = true;
  fixture.notes[0].velocity = 127;
  cr_assert_eq(target_of_notes(), 1);
}

Test(target, is_one_of_the_notes)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned seed = 0; seed < 200; ++seed) {
    fixture_open(&fixture, "4/4", "C7|F7", "major blues", 120);
    const unsigned n = 1 + rng_below(&rng, 30);
    for (unsigned i = 0; i < n; ++i) {
      fixture_add(&fixture, (Tick)i * 240, 200, 50 + rng_below(&rng, 30));
      fixture.notes[i].velocity = (uint8_t)(1 + rng_below(&rng, 127));
    }
    cr_assert_lt(target_of_notes(), n);
  }
}
