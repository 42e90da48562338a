#include "core/band/rotation.h"
#include "fixture.h"

#include <criterion/criterion.h>

static Chart chart;
static Feel  feel;

/// Make a part of one-bar and two-bar patterns for both layers.
static FeelPart
make_part(const unsigned n_thin, const unsigned n_full, const unsigned n_two)
{
  FeelPart part = {.n_patterns = n_thin + n_full + n_two};
  for (unsigned i = 0; i < part.n_patterns; ++i) {
    part.patterns[i].layer  = i >= n_thin;
    part.patterns[i].n_bars = i < n_thin + n_full ? 1 : 2;
  }
  return part;
}

static Cue
cue_at_bar(const unsigned bar, const BandFullness fullness)
{
  return (Cue){&chart, &feel, 120.0, (Tick)bar * 3840, fullness, NULL};
}

Test(rotation, never_draws_one_three_times_running)
{
  static FeelPart part;
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C|C|C|C|C|C|C|C");
  part = make_part(2, 3, 0);
  for (uint64_t seed = 0; seed < 20; ++seed) {
    Rotation           rotation = {NULL, 0, 0};
    Rng                rng      = rng_seed(seed, 0);
    const FeelPattern* last     = NULL;
    unsigned           run      = 0;
    for (unsigned bar = 0; bar < 200; ++bar) {
      const Cue cue = cue_at_bar(bar, bar / 50 % 2 ? BAND_FULL : BAND_THIN);
      const FeelPattern* const pattern =
        rotation_next(&rotation, &part, &cue, &rng);
      cr_assert_not_null(pattern);
      cr_assert_eq(pattern->layer, bar / 50 % 2);
      run  = pattern == last ? run + 1 : 1;
      last = pattern;
      cr_assert_leq(run, 2U);
    }
  }
}

Test(rotation, draws_every_pattern_sooner_or_later)
{
  static FeelPart part;
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C|C|C|C");
  part              = make_part(0, 4, 4);
  Rotation rotation = {NULL, 0, 0};
  Rng      rng      = rng_seed(3, 0);
  unsigned seen     = 0;
  for (unsigned bar = 0; bar < 400; ++bar) {
    const Cue                cue = cue_at_bar(bar, BAND_FULL);
    const FeelPattern* const pattern =
      rotation_next(&rotation, &part, &cue, &rng);
    seen |= 1U << (pattern - part.patterns);
  }
  cr_assert_eq(seen, 0xFFU);
}

/// Two bars begin on an even bar; from within only where all that could begin
/// has been played twice running.
Test(rotation, plays_two_bars_from_an_even_bar_to_their_end)
{
  static FeelPart part;
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C|C|C"); // Seven bars
  part                        = make_part(0, 1, 2);
  Rotation           rotation = {NULL, 0, 0};
  Rng                rng      = rng_seed(4, 0);
  const FeelPattern* last[2]  = {NULL, NULL};
  for (unsigned bar = 0; bar < 210; ++bar) {
    const Cue                cue = cue_at_bar(bar, BAND_FULL);
    const FeelPattern* const pattern =
      rotation_next(&rotation, &part, &cue, &rng);
    const Tick into = cue.start - rotation_origin(pattern, &cue);
    if (pattern->n_bars == 2) {
      const bool is_tired = last[0] == last[1] && last[0] == part.patterns;
      cr_assert_eq(into, (Tick)(bar % 7 % 2) * 3840);
      cr_assert(into == 0 || pattern == last[0] || is_tired);
    } else {
      cr_assert_eq(into, 0);
    }
    last[1] = last[0];
    last[0] = pattern;
  }
}

Test(rotation, ends_a_pattern_with_the_form)
{
  static FeelPart part;
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C"); // Five bars
  part                        = make_part(0, 0, 4);
  Rotation           rotation = {NULL, 0, 0};
  Rng                rng      = rng_seed(8, 0);
  const FeelPattern* last     = NULL;
  for (unsigned bar = 0; bar < 200; ++bar) {
    const Cue                cue = cue_at_bar(bar, BAND_FULL);
    const FeelPattern* const pattern =
      rotation_next(&rotation, &part, &cue, &rng);
    cr_assert(bar % 5 % 2 == 0 || pattern == last, "not to its end");
    last = pattern;
  }
}

Test(rotation, changes_at_once_when_the_band_thins)
{
  static FeelPart part;
  chart_write(&chart, "4/4", "C major", "C|C|C|C");
  part               = make_part(1, 0, 1);
  Rotation  rotation = {NULL, 0, 0};
  Rng       rng      = rng_seed(5, 0);
  const Cue full     = cue_at_bar(0, BAND_FULL);
  const Cue thin     = cue_at_bar(1, BAND_THIN);
  cr_assert_eq(rotation_next(&rotation, &part, &full, &rng), &part.patterns[1]);
  cr_assert_eq(rotation_next(&rotation, &part, &thin, &rng), &part.patterns[0]);
}

Test(rotation, falls_back_to_the_thin_layer_but_not_to_the_full_one)
{
  static FeelPart part;
  chart_write(&chart, "4/4", "C major", "C|C");
  Rng       rng  = rng_seed(6, 0);
  const Cue full = cue_at_bar(0, BAND_FULL);
  const Cue thin = cue_at_bar(0, BAND_THIN);

  part              = make_part(2, 0, 0);
  Rotation rotation = {NULL, 0, 0};
  cr_assert_not_null(rotation_next(&rotation, &part, &full, &rng));

  part     = make_part(0, 2, 0);
  rotation = (Rotation){NULL, 0, 0};
  cr_assert_null(rotation_next(&rotation, &part, &thin, &rng));
}

Test(rotation, takes_patterns_of_the_meter_only)
{
  static FeelPart part;
  chart_write(&chart, "3/4", "C major", "C|C");
  part                   = make_part(0, 3, 0);
  part.patterns[0].meter = meter_named("4/4");
  part.patterns[1].meter = meter_named("3/4");
  part.patterns[2].meter = meter_named("12/8");
  Rotation rotation      = {NULL, 0, 0};
  Rng      rng           = rng_seed(7, 0);
  for (unsigned bar = 0; bar < 20; ++bar) {
    Cue cue   = cue_at_bar(0, BAND_FULL);
    cue.start = (Tick)bar * 2880;
    cr_assert_eq(rotation_next(&rotation, &part, &cue, &rng),
                 &part.patterns[1]);
  }
}
