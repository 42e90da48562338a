// Both sides of the numbers of touch in drums.c, bass.c and comping.c: chances
// by their frequency, velocities by their mean, both over many bars. Common
// practice, no source; how far off a mean may be is three times its standard
// error or more.
//
// Drums: spread_ms, velocity_spread, fill_at_four, fill_at_eight, fill_at_form,
// fill_at_turn, accent, accent_velocity, crash_velocity, kick_velocity,
// hat_velocity, count_first, count, even. Bass: spread_ms, velocity_spread,
// root_velocity, share, skip, skip_velocity. Chords: spread_ms,
// velocity_spread, other_voicing, inner_softer, end_velocity, change_velocity.

#include "core/band/bass.h"
#include "core/band/comping.h"
#include "core/band/drums.h"
#include "fixture.h"

#include <criterion/criterion.h>

#include <math.h>

enum { ROUNDS = 4000, RIDE = 51, BAR = 3840 };

static Chart   chart;
static Feel    feel;
static BandBar bar;
static Drums   drums;
static Bass    bass;
static Comping comping;
static Rng     rng;

/// What was counted of some notes.
typedef struct {
  double n, sum, least, most;
} Heard;

static void
hear(Heard* const heard, const double value)
{
  heard->least = heard->n > 0 ? fmin(heard->least, value) : value;
  heard->most  = heard->n > 0 ? fmax(heard->most, value) : value;
  heard->sum += value;
  heard->n += 1;
}

static double
mean(const Heard* const heard)
{
  return heard->n > 0 ? heard->sum / heard->n : -1;
}

/// A feel of one ride stroke, a bass in walk and a chord on the first beat.
static void
begin(const char* const bars)
{
  const FeelPattern one = {
    .n_bars = 1, .n_hits = 1, .hits = {{0, 960, 70, RIDE}}};
  chart_write(&chart, "4/4", "C major", bars);
  memset(&feel, 0, sizeof(feel));
  memset(&drums, 0, sizeof(drums));
  memset(&bass, 0, sizeof(bass));
  memset(&comping, 0, sizeof(comping));
  feel.swing_ratio                      = 1.0;
  feel.bass_line                        = BASS_LINE_WALKING;
  feel.drums.n_patterns                 = 1;
  feel.drums.patterns[0]                = one;
  feel.chords                           = feel.drums;
  feel.chords.patterns[0].hits[0].voice = 0;
  rng                                   = rng_seed(1, 7);
}

static Cue
cue_of(const unsigned number, const Solo* const solo)
{
  bar.n_notes = 0;
  return (Cue){&chart, &feel, 120.0, (Tick)number * BAR, BAND_FULL, solo};
}

/// Hear the velocities of a drum, and how many ms it was off a place.
static void
hear_drum(const unsigned key, Heard* const velocities)
{
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    if (bar.notes[i].note.pitch == key) {
      hear(velocities, bar.notes[i].note.velocity);
    }
  }
}

/// How often a bar ends in a fill: the ride alone is one stroke.
static double
share_filled(const unsigned number, const Solo* const solo)
{
  double n = 0;
  for (unsigned i = 0; i < ROUNDS; ++i) {
    const Cue cue = cue_of(number, solo);
    drums_play(&drums, &cue, &rng, &bar);
    n += drums.has_filled;
  }
  return n / ROUNDS;
}

Test(touch, fills)
{
  Solo solo     = solo_silent();
  solo.leads_on = true;
  begin("C|C|C|C|C|C|C|C|C|C|C|C");
  cr_assert_float_eq(share_filled(2, NULL), 0.0, 1e-9);
  cr_assert_float_eq(share_filled(3, NULL), 0.3, 0.03);
  cr_assert_float_eq(share_filled(7, NULL), 0.6, 0.03);
  cr_assert_float_eq(share_filled(11, NULL), 0.85, 0.03);
  cr_assert_float_eq(share_filled(2, &solo), 0.7, 0.03);
}

/// Only fills of even eighths have the middle tom at this tempo, only swung
/// ones the bass drum.
Test(touch, even_and_swung_fills)
{
  for (unsigned swung = 0; swung < 2; ++swung) {
    Heard even = {0};
    Heard kick = {0};
    begin("C");
    feel.swing_ratio = swung ? 1.16 : 1.15;
    for (unsigned i = 0; i < ROUNDS; ++i) {
      Cue cue          = cue_of(0, NULL);
      cue.tempo_bpm    = 200.0;
      drums.has_filled = false; // No kick that marks the form
      drums_play(&drums, &cue, &rng, &bar);
      hear_drum(DRUM_MIDDLE_TOM, &even);
      hear_drum(DRUM_BASS, &kick);
    }
    cr_assert_eq(even.n > 0, !swung);
    cr_assert_eq(kick.n > 0, swung);
  }
}

Test(touch, accents_and_marks)
{
  Heard accents = {0};
  Heard crashes = {0};
  Heard kicks   = {0};
  Heard hats    = {0};
  Solo  solo    = solo_silent();
  solo.accent   = 960;
  begin("C|C");
  for (unsigned i = 0; i < ROUNDS; ++i) {
    Cue cue          = cue_of(0, &solo);
    drums.has_filled = true;
    drums_play(&drums, &cue, &rng, &bar);
    hear_drum(DRUM_SNARE, &accents);
    hear_drum(DRUM_CRASH, &crashes);
    hear_drum(DRUM_BASS, &kicks);
    cue          = cue_of(0, NULL);
    cue.fullness = BAND_ROOTS;
    drums_play(&drums, &cue, &rng, &bar);
    hear_drum(DRUM_PEDAL_HAT, &hats);
  }
  cr_assert_float_eq(accents.n / ROUNDS, 0.35, 0.03);
  cr_assert_float_eq(mean(&accents), 56, 1);
  cr_assert_float_eq(mean(&crashes), 62, 1);
  cr_assert_float_eq(mean(&kicks), 64, 1);
  cr_assert_float_eq(mean(&hats), 48, 1);
  cr_assert_eq(hats.least, 44); // Four softer or louder, and no more
  cr_assert_eq(hats.most, 52);
}

Test(touch, count_in)
{
  begin("C");
  const Cue cue = cue_of(0, NULL);
  drums_count(&cue, false, &rng, &bar);
  cr_assert_eq(bar.n_notes, 4);
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(bar.notes[i].note.velocity, i ? 78 : 92);
    cr_assert_eq(bar.notes[i].note.tick, i * 960);
  }
}

/// How many ms the strokes are off their places on both sides; on the first
/// beat they are hardly late.
Test(touch, drums_are_three_ms_off_at_most)
{
  Heard off = {0};
  begin("C");
  feel.drums.patterns[0].hits[0].tick = 960;
  for (unsigned i = 0; i < ROUNDS; ++i) {
    const Cue cue = cue_of(0, NULL);
    drums_play(&drums, &cue, &rng, &bar);
    for (unsigned k = 0; k < bar.n_notes; ++k) {
      if (bar.notes[k].note.pitch == RIDE) {
        hear(&off, (double)(bar.notes[k].note.tick - 960));
      }
    }
  }
  cr_assert(off.least >= -6 && off.least <= -5, "%g", off.least); // 6: 3 ms
  cr_assert(off.most <= 6 && off.most >= 5, "%g", off.most);
}

/// Roots alone: how loud, how long, and how far off. A chord of half a bar, so
/// that nothing but the share tells its length.
Test(touch, bass_roots)
{
  Heard velocities = {0};
  Heard lengths    = {0};
  begin("C F");
  for (unsigned i = 0; i < ROUNDS; ++i) {
    Cue cue      = cue_of(0, NULL);
    cue.fullness = BAND_ROOTS;
    bass_play(&bass, &cue, &rng, &bar);
    hear(&velocities, bar.notes[0].note.velocity);
    hear(&lengths, (double)(bar.notes[0].note.tick + bar.notes[0].note.length));
  }
  cr_assert_float_eq(mean(&velocities), 84, 1);
  cr_assert_eq(velocities.least, 80);
  cr_assert_eq(velocities.most, 88);
  cr_assert_float_eq(mean(&lengths), 0.92 * 1920, 2);
}

/// A skip in so many bars, so much softer than the beat's own note, half a beat
/// after it.
Test(touch, bass_skips)
{
  Heard skips = {0};
  Heard off   = {0};
  begin("C|F|C|G");
  for (unsigned i = 0; i < ROUNDS; ++i) {
    const Cue cue = cue_of(i, NULL);
    bass_play(&bass, &cue, &rng, &bar);
    for (unsigned k = 1; k < bar.n_notes; ++k) {
      const Tick in_beat = bar.notes[k].note.tick % 960;
      if (in_beat > 240 && in_beat < 720) {
        hear(&skips,
             (double)bar.notes[k].note.velocity /
               (double)bar.notes[k - 1].note.velocity);
        hear(&off, (double)(in_beat - 480));
      }
    }
  }
  cr_assert_float_eq(skips.n / ROUNDS, 0.22, 0.02);
  cr_assert_float_eq(mean(&skips), 0.72, 0.01);
  cr_assert(off.least >= -8 && off.least <= -6, "%g", off.least); // 8: 4 ms
  cr_assert(off.most <= 8 && off.most >= 6, "%g", off.most);
}

static unsigned
top_of_bar(void)
{
  unsigned top = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    top = bar.notes[i].note.pitch > bar.notes[top].note.pitch ? i : top;
  }
  return top;
}

/// Chords: the top note as loud as it is written, the others softer; another
/// top now and then on the same chord.
Test(touch, chords)
{
  Heard    tops   = {0};
  Heard    inners = {0};
  Heard    off    = {0};
  double   n_new  = 0;
  unsigned before = 0;
  begin("C|C|C|C");
  feel.chords.patterns[0].hits[0] = (FeelHit){960, 960, 100, 0};
  for (unsigned i = 0; i < ROUNDS; ++i) {
    const Cue cue = cue_of(i, NULL);
    comping_play(&comping, &cue, &rng, &bar);
    const unsigned top = top_of_bar();
    for (unsigned k = 0; k < bar.n_notes; ++k) {
      hear(k == top ? &tops : &inners, bar.notes[k].note.velocity);
      hear(&off, (double)(bar.notes[k].note.tick % BAR - 960));
    }
    n_new += before != bar.notes[top].note.pitch;
    before = bar.notes[top].note.pitch;
  }
  cr_assert_float_eq(mean(&tops), 100, 1);
  cr_assert_float_eq(mean(&inners), 92, 1);
  cr_assert_eq(tops.most, 104);
  cr_assert_eq(tops.least, 96);
  cr_assert_float_eq(n_new / ROUNDS, 0.3, 0.03);
  cr_assert(off.least >= -10 && off.least <= -9, "%g", off.least); // 10: 5 ms
  cr_assert(off.most <= 10 && off.most >= 9, "%g", off.most);
}

/// A chord that no hit of the pattern plays, and the last one.
Test(touch, chords_that_nobody_wrote)
{
  Heard changes = {0};
  Heard ends    = {0};
  begin("C F");
  for (unsigned i = 0; i < ROUNDS; ++i) {
    Cue         cue = cue_of(i, NULL);
    const Chord end = chord_named("C");
    comping_play(&comping, &cue, &rng, &bar);
    for (unsigned k = 0; k < bar.n_notes; ++k) {
      if (bar.notes[k].note.tick % BAR > 1800 &&
          bar.notes[k].note.tick % BAR < 2000) {
        hear(&changes, bar.notes[k].note.velocity);
      }
    }
    cue = cue_of(i, NULL);
    comping_end(&comping, &cue, &end, &rng, &bar);
    hear(&ends, bar.notes[top_of_bar()].note.velocity);
  }
  cr_assert_eq(changes.most, 66); // 62, and four more
  cr_assert_float_eq(mean(&ends), 76, 1);
}
