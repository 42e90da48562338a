// The note a phrase aims at: common practice, no source.

#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

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

/// The same bar twice: a fifth on the first beat, then notes outside. Its two
/// fifths are alike in all but stress.
Test(target, stress_tells_between_equals)
{
  for (unsigned loud = 0; loud < 2; ++loud) {
    fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
    for (unsigned bar = 0; bar < 2; ++bar) {
      fixture_add(&fixture, (Tick)bar * 3840, 900, 67);
      for (unsigned i = 4; i < 8; ++i) {
        fixture_add(
          &fixture, (Tick)bar * 3840 + (Tick)i * 480, 470, i % 2 ? 63 : 73);
      }
    }
    fixture.notes[5 * loud].velocity = 120;
    cr_assert_eq(target_of_notes(), 5 * loud);
  }
}

/// Where a phrase ends: a last note on a beat or not, of some length, after a
/// long fifth in the bar before. How the turn goes on does not matter.
typedef struct {
  char     name[32];
  Tick     tick;
  Tick     length;
  unsigned pitch;
  bool     is_target;
} EndRow;

ParameterizedTestParameters(target, the_end)
{
  static EndRow rows[] = {
    {"root held to the line", 5760, 1920, 60, true},
    {"root held over the line", 5760, 3840, 60, true},
    {"root of a beat, to the line", 6720, 960, 60, true},
    {"root, then silence", 5760, 700, 60, true},
    {"third held to the line", 5760, 1920, 64, true},
    {"short pick-up", 7200, 300, 60, false},
    {"just before a pick-up", 7190, 300, 60, true},
    {"held pick-up", 7200, 900, 60, false},
  };
  return cr_make_param_array(EndRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(EndRow* row, target, the_end)
{
  fixture_open(&fixture, "4/4", "C7|C7|G7", "major", 120);
  fixture_add(&fixture, 0, 1800, 67);
  fixture_add(&fixture, 1920, 450, 65);
  for (Tick tick = 2400; tick + 480 <= row->tick && tick < 5760; tick += 480) {
    fixture_add(&fixture, tick, 470, tick % 960 ? 62 : 65);
  }
  fixture_add(&fixture, row->tick, row->length, row->pitch);
  cr_assert_eq(target_of_notes() == fixture.n_notes - 1, row->is_target);
}

/// Of two like notes the one before a breath.
Test(target, before_a_breath)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 900, 64);
  fixture_add(&fixture, 960, 450, 62);
  fixture_add(&fixture, 1440, 450, 65);
  fixture_add(&fixture, 1920, 450, 64); // Then a beat and a half of silence
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, 3840 + (Tick)i * 480, 470, i % 2 ? 62 : 65);
  }
  cr_assert_eq(target_of_notes(), 3);
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
