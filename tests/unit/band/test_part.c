#include "core/band/part.h"
#include "fixture.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

static Chart   chart;
static Feel    feel;
static BandBar bar;

static PartNote
note(const Part part, const Tick tick, const Tick length, const uint8_t pitch)
{
  return (PartNote){{tick, length, pitch, 80}, (uint8_t)part};
}

Test(part, sorts_and_ends_a_note_where_the_same_pitch_comes_again)
{
  bar.n_notes  = 4;
  bar.notes[0] = note(PART_BASS, 960, 960, 40);
  bar.notes[1] = note(PART_CHORDS, 100, 2000, 60);
  bar.notes[2] = note(PART_BASS, 0, 1500, 40);
  bar.notes[3] = note(PART_DRUMS, 500, 100, 60);
  part_settle(&bar);
  cr_assert_eq(bar.n_notes, 4U);
  cr_assert_eq(bar.notes[0].note.tick, 0);
  cr_assert_eq(bar.notes[0].note.length, 960);
  cr_assert_eq(bar.notes[1].note.length, 2000, "another part is no matter");
  cr_assert_eq(bar.notes[3].note.length, 960);
}

Test(part, makes_one_of_two_that_begin_together)
{
  bar.n_notes                = 2;
  bar.notes[0]               = note(PART_DRUMS, 0, 100, 36);
  bar.notes[1]               = note(PART_DRUMS, 5, 100, 36);
  bar.notes[0].note.velocity = 90;
  part_settle(&bar);
  cr_assert_eq(bar.n_notes, 1U);
  cr_assert_eq(bar.notes[0].note.tick, 5);
  cr_assert_eq(bar.notes[0].note.velocity, 90);
}

Test(part, stays_in_the_bar_and_near_what_is_written)
{
  chart_write(&chart, "4/4", "C major", "C|C");
  Rng         rng   = rng_seed(1, 1);
  const Cue   cue   = {&chart, &feel, 120.0, 3840, BAND_FULL, NULL};
  const Touch touch = {.swing_ratio = 2.0, .spread_ms = 6.0};
  const Tick  ticks = 12; // 6 ms at 120 bpm: 1.92 ticks a ms
  for (unsigned i = 0; i < 1000; ++i) {
    const Tick    written = 3840 + (Tick)(i % 8) * 480;
    const Written it      = {PART_BASS, written, 400, 40, 80.0};
    bar.n_notes           = 0;
    part_play(&cue, &touch, &rng, &it, &bar);
    const Note played = bar.notes[0].note;
    const Tick swung  = written + (i % 2 ? 160 : 0);
    cr_assert_geq(played.tick, 3840);
    cr_assert_lt(played.tick, 7680);
    cr_assert_leq(llabs(played.tick - swung), ticks);
    cr_assert(i % 8 != 0 || played.tick <= 3844, "late on the first beat");
    cr_assert_geq(played.length, 1);
  }
}

Test(part, ends_a_note_where_its_written_end_sounds)
{
  chart_write(&chart, "4/4", "C major", "C");
  Rng           rng   = rng_seed(1, 1);
  const Cue     cue   = {&chart, &feel, 120.0, 0, BAND_FULL, NULL};
  const Touch   touch = {.swing_ratio = 2.0};
  const Written it    = {PART_CHORDS, 960, 480, 60, 80.0}; // To the off-beat
  bar.n_notes         = 0;
  part_play(&cue, &touch, &rng, &it, &bar);
  cr_assert_eq(bar.notes[0].note.tick, 960);
  cr_assert_eq(bar.notes[0].note.length, 640);
}

Test(part, cuts_velocities_to_what_midi_has)
{
  chart_write(&chart, "4/4", "C major", "C");
  Rng         rng   = rng_seed(2, 1);
  const Cue   cue   = {&chart, &feel, 120.0, 0, BAND_FULL, NULL};
  const Touch touch = {.swing_ratio = 1.0, .velocity_spread = 30.0};
  for (unsigned i = 0; i < 200; ++i) {
    const Written it = {PART_DRUMS, 0, 10, 36, i % 2 ? 3.0 : 125.0};
    bar.n_notes      = 0;
    part_play(&cue, &touch, &rng, &it, &bar);
    cr_assert_geq(bar.notes[0].note.velocity, 1);
    cr_assert_leq(bar.notes[0].note.velocity, 127);
  }
}

Test(part, wavers_both_ways_alike)
{
  Rng    rng  = rng_seed(3, 1);
  double sum  = 0.0;
  double wide = 0.0;
  for (unsigned i = 0; i < 10000; ++i) {
    const double waver = part_waver(&rng, 2.0);
    cr_assert_leq(fabs(waver), 2.0);
    sum += waver;
    wide = fabs(waver) > wide ? fabs(waver) : wide;
  }
  // A triangle of half width 2 deviates by 2 / sqrt(6); four times that / 100
  cr_assert_leq(fabs(sum / 10000), 0.033);
  cr_assert_geq(wide, 1.8);
}

Test(part, counts_bars_of_the_form)
{
  chart_write(&chart, "3/4", "C major", "C|C|C|C|C");
  for (unsigned i = 0; i < 23; ++i) {
    const Cue cue = {&chart, &feel, 120.0, (Tick)i * 2880, BAND_FULL, NULL};
    cr_assert_eq(cue_form_bar(&cue), i % 5);
    cr_assert_eq(cue_end(&cue), (Tick)(i + 1) * 2880);
  }
}
