#include "core/band/feel.h"
#include "fixture.h"

#include <criterion/criterion.h>

static Feel feel;

Test(feel, swings_by_tempo_or_as_it_says)
{
  feel = (Feel){.swing_by_tempo = true, .swing_ratio = 3.0};
  cr_assert_float_eq(feel_swing_ratio(&feel, 145.0), 1.7, 1e-9);
  feel.swing_by_tempo = false;
  cr_assert_float_eq(feel_swing_ratio(&feel, 145.0), 3.0, 1e-9);
}

Test(feel, drums_swing_more_while_their_short_note_has_80_ms)
{
  for (double extra = 0.0; extra <= 1.5; extra += 0.25) {
    feel = (Feel){.swing_by_tempo = true, .ride_swing_extra = extra};
    for (double bpm = 30.0; bpm <= 320.0; bpm += 1.0) {
      const double others   = feel_swing_ratio(&feel, bpm);
      const double drums    = feel_drum_ratio(&feel, bpm);
      const double short_ms = 60000.0 / bpm / (1.0 + drums);
      cr_assert_geq(drums, others);
      cr_assert_leq(drums, others + extra + 1e-9);
      cr_assert_geq(short_ms, 80.0 - 1e-9, "%g ms at %g bpm", short_ms, bpm);
    }
  }
}

Test(feel, keeps_a_ratio_that_a_musician_wrote)
{
  feel = (Feel){.swing_ratio = 4.0, .ride_swing_extra = 1.5};
  cr_assert_float_eq(feel_drum_ratio(&feel, 60.0), 4.0, 1e-9);
  feel.swing_ratio = 2.0; // 67 ms at 300 bpm: no more, but no less either
  cr_assert_float_eq(feel_drum_ratio(&feel, 300.0), 2.0, 1e-9);
}

Test(feel, fits_the_meters_that_all_its_parts_have)
{
  const Meter four  = meter_named("4/4");
  const Meter three = meter_named("3/4");
  feel              = (Feel){.n_meters = 2, .meters = {four, three}};
  cr_assert(feel_fits(&feel, four));
  cr_assert(feel_fits(&feel, three));
  cr_assert_not(feel_fits(&feel, meter_named("5/4")));

  feel.drums.n_patterns        = 1;
  feel.drums.patterns[0].meter = four;
  cr_assert(feel_fits(&feel, four));
  cr_assert_not(feel_fits(&feel, three));
  feel.drums.patterns[0].meter = (Meter){0, 0};
  cr_assert(feel_fits(&feel, three));

  feel.bass_line              = BASS_LINE_WALKING;
  feel.bass.n_patterns        = 1;
  feel.bass.patterns[0].meter = four;
  cr_assert(feel_fits(&feel, three), "a walking bass needs no pattern");
  feel.bass_line = BASS_LINE_PATTERN;
  cr_assert_not(feel_fits(&feel, three));
}
