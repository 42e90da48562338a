#include "core/band/bass.h"
#include "fixture.h"

#include <criterion/criterion.h>

#include <stdlib.h>

static Chart   chart;
static Feel    feel;
static Bass    bass;
static BandBar bar;

static void
begin(const char* const feel_name, const char* const meter, const char* bars)
{
  feel_load(&feel, feel_name);
  chart_write(&chart, meter, "C major", bars);
  memset(&bass, 0, sizeof(bass));
}

static unsigned
play(const unsigned     number,
     const double       bpm,
     const BandFullness fullness,
     Rng* const         rng)
{
  const Tick start = (Tick)number * meter_bar_ticks(chart.meter);
  const Cue  cue   = {&chart, &feel, bpm, start, fullness, NULL};
  bar.n_notes      = 0;
  bass_play(&bass, &cue, rng, &bar);
  part_settle(&bar);
  return bar.n_notes;
}

Test(bass, skips_now_and_then_when_full_and_not_too_fast)
{
  Rng      rng     = rng_seed(1, 1);
  unsigned n_skips = 0;
  begin("swing", "4/4", "C7|F7|C7|G7");
  for (unsigned i = 0; i < 400; ++i) {
    cr_assert_eq(play(4 * i, 140.0, BAND_THIN, &rng), 4U);
    cr_assert_eq(play(4 * i + 1, 230.0, BAND_FULL, &rng), 4U);
    const unsigned n = play(4 * i + 2, 140.0, BAND_FULL, &rng);
    cr_assert(n == 4 || n == 5);
    n_skips += n == 5;
  }
  cr_assert_gt(n_skips, 40U);
  cr_assert_lt(n_skips, 160U);
}

Test(bass, skips_on_the_pitch_that_it_follows_more_softly)
{
  Rng rng = rng_seed(2, 1);
  begin("swing", "4/4", "C7|F7|C7|G7");
  for (unsigned i = 0; i < 400; ++i) {
    if (play(i, 140.0, BAND_FULL, &rng) == 5) {
      unsigned at = 0; // The skip, off the beat
      while (bar.notes[at].note.tick % 960 < 400 ||
             bar.notes[at].note.tick % 960 > 900) {
        ++at;
      }
      cr_assert_gt(at, 0U);
      const Note skip = bar.notes[at].note;
      const Note said = bar.notes[at - 1].note;
      cr_assert_eq(skip.pitch, said.pitch);
      cr_assert_lt(skip.velocity, said.velocity);
    }
  }
}

Test(bass, plays_the_tones_of_its_pattern)
{
  static const uint8_t tones[] = {
    BASS_ROOT, BASS_OCTAVE, BASS_OCTAVE, BASS_FIFTH};
  Rng rng = rng_seed(3, 1);
  begin("straight", "4/4", "C|C|C|C");
  feel.bass.n_patterns       = 1;
  FeelPattern* const pattern = &feel.bass.patterns[0];
  *pattern                   = (FeelPattern){.n_bars = 1, .n_hits = 4};
  for (unsigned i = 0; i < 4; ++i) {
    pattern->hits[i] = (FeelHit){(Tick)i * 960, 900, 80, tones[i]};
  }
  for (unsigned i = 0; i < 20; ++i) {
    cr_assert_eq(play(i, 120.0, BAND_FULL, &rng), 4U);
    cr_assert_eq(bar.notes[0].note.pitch % 12, 0);
    cr_assert_eq(abs(bar.notes[1].note.pitch - bar.notes[0].note.pitch), 12);
    cr_assert_eq(bar.notes[2].note.pitch,
                 bar.notes[1].note.pitch,
                 "the same tone again is the same pitch");
    cr_assert_eq(bar.notes[3].note.pitch % 12, 7);
  }
}

Test(bass, stays_on_a_fifth_that_comes_twice)
{
  Rng rng = rng_seed(6, 1);
  begin("straight", "4/4", "D|D|D|D");
  feel.bass.n_patterns       = 1;
  FeelPattern* const pattern = &feel.bass.patterns[0];
  *pattern                   = (FeelPattern){.n_bars = 1, .n_hits = 3};
  pattern->hits[0]           = (FeelHit){0, 900, 80, BASS_ROOT};
  pattern->hits[1]           = (FeelHit){1440, 400, 80, BASS_FIFTH};
  pattern->hits[2]           = (FeelHit){1920, 900, 80, BASS_FIFTH};
  unsigned n_below           = 0;
  for (unsigned i = 0; i < 40; ++i) {
    cr_assert_eq(play(i, 120.0, BAND_FULL, &rng), 3U);
    cr_assert_eq(bar.notes[1].note.pitch % 12, 9);
    cr_assert_eq(bar.notes[2].note.pitch, bar.notes[1].note.pitch);
    n_below += bar.notes[1].note.pitch < bar.notes[0].note.pitch;
  }
  cr_assert_gt(n_below, 4U);
  cr_assert_lt(n_below, 36U);
}

Test(bass, says_a_new_root_whatever_its_pattern_says)
{
  Rng rng = rng_seed(4, 1);
  begin("straight", "4/4", "C F|G|N.C.|Dm");
  feel.bass.n_patterns       = 1;
  FeelPattern* const pattern = &feel.bass.patterns[0];
  *pattern                   = (FeelPattern){.n_bars = 1, .n_hits = 3};
  pattern->hits[0]           = (FeelHit){0, 1400, 80, BASS_FIFTH};
  pattern->hits[1]           = (FeelHit){1920, 1400, 80, BASS_FIFTH};
  pattern->hits[2]           = (FeelHit){3360, 400, 80, BASS_APPROACH};
  (void)play(0, 120.0, BAND_FULL, &rng);
  cr_assert_eq(bar.notes[0].note.pitch % 12, 0, "C");
  cr_assert_eq(bar.notes[1].note.pitch % 12, 5, "F");
  (void)play(1, 120.0, BAND_FULL, &rng);
  cr_assert_eq(bar.notes[0].note.pitch % 12, 7, "G");
  cr_assert_eq(bar.notes[1].note.pitch % 12, 2, "its fifth");
  cr_assert_eq(bar.notes[2].note.pitch % 12, 7, "no approach to silence");
  cr_assert_eq(play(2, 120.0, BAND_FULL, &rng), 0U);
}

Test(bass, ends_its_notes_when_their_chord_has_gone)
{
  Rng rng = rng_seed(5, 1);
  begin("swing", "4/4", "C N.C.|C F|C");
  for (unsigned i = 0; i < 30; ++i) {
    (void)play(i, 120.0, i % 2 ? BAND_FULL : BAND_ROOTS, &rng);
    for (unsigned j = 0; j < bar.n_notes; ++j) {
      const Note note = bar.notes[j].note;
      const Tick gone = chart_next_change(&chart, note.tick + 20);
      cr_assert_leq(note.tick + note.length, gone + 20);
    }
  }
}
