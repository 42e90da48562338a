#include "core/band/comping.h"
#include "fixture.h"

#include <criterion/criterion.h>

#include <stdlib.h>

static Chart   chart;
static Feel    feel;
static Comping comping;
static BandBar bar;

/// One pattern of hits for both layers, straight.
static void
feel_of_hits(const unsigned n_bars, const FeelHit* const hits, const unsigned n)
{
  feel                           = (Feel){.swing_ratio = 1.0};
  feel.chords.n_patterns         = 1;
  feel.chords.patterns[0].n_bars = (uint8_t)n_bars;
  feel.chords.patterns[0].n_hits = n;
  memcpy(feel.chords.patterns[0].hits, hits, n * sizeof(*hits));
}

static void
begin(const char* const meter, const char* const key, const char* const bars)
{
  chart_write(&chart, meter, key, bars);
  memset(&comping, 0, sizeof(comping));
}

/// Play a bar of the chart, counted from 0, and settle it.
static void
play(const unsigned number, Rng* const rng)
{
  const Tick start = (Tick)number * meter_bar_ticks(chart.meter);
  const Cue  cue   = {&chart, &feel, 120.0, start, BAND_FULL, NULL};
  bar.n_notes      = 0;
  comping_play(&comping, &cue, rng, &bar);
  part_settle(&bar);
}

/// Whether a note begins within 10 ms (20 ticks at 120 bpm) of a written tick.
static bool
is_struck_at(const PartNote* const note, const Tick tick)
{
  return llabs(note->note.tick - tick) <= 20;
}

/// Return the pitch classes struck at a written tick; bit 0 is C.
static unsigned
struck_at(const Tick tick)
{
  unsigned classes = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    if (is_struck_at(&bar.notes[i], tick)) {
      classes |= 1U << bar.notes[i].note.pitch % 12;
    }
  }
  return classes;
}

/// Return where the last note struck at a written tick ends.
static Tick
end_of(const Tick tick)
{
  Tick end = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note note = bar.notes[i].note;
    if (is_struck_at(&bar.notes[i], tick) && note.tick + note.length > end) {
      end = note.tick + note.length;
    }
  }
  return end;
}

enum {
  C_MAJOR = 1U << 0 | 1U << 4 | 1U << 7,
  F_MAJOR = 1U << 5 | 1U << 9 | 1U << 0,
  G_MAJOR = 1U << 7 | 1U << 11 | 1U << 2,
};

static const FeelHit charleston[] = {{0, 960, 70, 0}, {1440, 480, 70, 0}};
static const FeelHit push[]       = {{0, 960, 70, 0}, {3360, 1440, 70, 0}};
static const FeelHit on_one[]     = {{0, 3600, 70, 0}};

Test(comping, plays_the_chord_at_each_hit)
{
  Rng rng = rng_seed(1, 1);
  begin("4/4", "C major", "C|F");
  feel_of_hits(1, charleston, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(0), C_MAJOR);
  cr_assert_eq(struck_at(1440), C_MAJOR);
  play(1, &rng);
  cr_assert_eq(struck_at(3840), F_MAJOR);
}

Test(comping, plays_the_coming_chord_on_the_last_off_beat_and_holds_it)
{
  Rng rng = rng_seed(2, 1);
  begin("4/4", "C major", "C|F|G|C");
  feel_of_hits(1, push, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(0), C_MAJOR);
  cr_assert_eq(struck_at(3360), F_MAJOR);
  cr_assert_gt(end_of(3360), 3840 + 900, "held over the line");
  play(1, &rng);
  cr_assert_eq(struck_at(3840), 0U, "struck again while it is held");
  cr_assert_eq(struck_at(3840 + 3360), G_MAJOR);
}

Test(comping, keeps_the_chord_through_a_row_of_short_hits)
{
  static const FeelHit row[] = {
    {2880, 320, 70, 0}, {3200, 320, 70, 0}, {3520, 320, 70, 0}};
  static const FeelHit held[] = {{2880, 480, 70, 0}, {3360, 960, 70, 0}};
  Rng                  rng    = rng_seed(11, 1);
  begin("4/4", "C major", "C|F");
  feel_of_hits(1, row, 3);
  play(0, &rng);
  cr_assert_eq(struck_at(3520), C_MAJOR);

  begin("4/4", "C major", "C|F");
  feel_of_hits(1, held, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(2880), C_MAJOR);
  cr_assert_eq(struck_at(3360), F_MAJOR);
}

Test(comping, plays_the_coming_chord_within_the_bar_too)
{
  Rng rng = rng_seed(3, 1);
  begin("4/4", "C major", "C F");
  feel_of_hits(1, charleston, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(1440), F_MAJOR, "two and a half belongs to three");
  cr_assert_eq(struck_at(1920), 0U);
}

Test(comping, gives_each_chord_of_a_bar_a_hit)
{
  Rng rng = rng_seed(4, 1);
  begin("4/4", "C major", "C F G C|F");
  feel_of_hits(1, on_one, 1);
  play(0, &rng);
  cr_assert_eq(struck_at(0), C_MAJOR);
  cr_assert_eq(struck_at(960), F_MAJOR);
  cr_assert_eq(struck_at(1920), G_MAJOR);
  cr_assert_eq(struck_at(2880), C_MAJOR);
}

Test(comping, ends_a_chord_when_it_has_gone)
{
  Rng rng = rng_seed(5, 1);
  begin("4/4", "C major", "C F|G");
  feel_of_hits(1, on_one, 1);
  play(0, &rng);
  cr_assert_leq(end_of(0), 1920);
  cr_assert_leq(end_of(1920), 3840);
}

Test(comping, ends_a_chord_when_it_has_gone_though_the_next_comes_late)
{
  static const FeelHit late[] = {{0, 2880, 70, 0}, {2880, 480, 70, 0}};
  Rng                  rng    = rng_seed(12, 1);
  begin("4/4", "C major", "C F|G");
  feel_of_hits(1, late, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(2880), F_MAJOR);
  cr_assert_leq(end_of(0), 1920);
}

Test(comping, leads_from_the_last_third_of_a_beat_but_not_from_the_second)
{
  static const FeelHit second[] = {{4800, 240, 70, 0}};
  static const FeelHit last[]   = {{5280, 240, 70, 0}};
  Rng                  rng      = rng_seed(13, 1);
  begin("12/8", "C major", "C|F");
  feel_of_hits(1, second, 1);
  play(0, &rng);
  cr_assert_eq(struck_at(4800), C_MAJOR);
  begin("12/8", "C major", "C|F");
  feel_of_hits(1, last, 1);
  play(0, &rng);
  cr_assert_eq(struck_at(5280), F_MAJOR);
}

Test(comping, is_silent_where_there_is_no_chord_and_does_not_lead_there)
{
  Rng rng = rng_seed(6, 1);
  begin("4/4", "C major", "C|N.C.|F|C N.C.");
  feel_of_hits(1, push, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(3360), C_MAJOR);
  cr_assert_leq(end_of(3360), 3840, "sounds into silence");
  play(1, &rng);
  cr_assert_eq(struck_at(3840), 0U);
  cr_assert_eq(struck_at(7200), F_MAJOR, "leads out of silence");
  play(3, &rng);
  cr_assert_eq(struck_at(4 * 3840 - 480), C_MAJOR, "the form comes round");
  cr_assert_leq(end_of(3 * 3840), 3 * 3840 + 1920);
}

Test(comping, plays_the_bars_of_a_longer_pattern_in_turn)
{
  static const FeelHit two_bars[] = {{0, 480, 70, 0}, {5760, 480, 70, 0}};
  Rng                  rng        = rng_seed(7, 1);
  begin("4/4", "C major", "C|C|F|F");
  feel_of_hits(2, two_bars, 2);
  play(0, &rng);
  cr_assert_eq(struck_at(0), C_MAJOR);
  cr_assert_eq(struck_at(1920), 0U);
  play(1, &rng);
  cr_assert_eq(struck_at(3840), 0U);
  cr_assert_eq(struck_at(5760), C_MAJOR);
}

Test(comping, leaves_out_a_hit_that_has_no_time_to_sound)
{
  static const FeelHit near[] = {{0, 480, 70, 0}, {20, 480, 70, 0}};
  Rng                  rng    = rng_seed(14, 1);
  begin("4/4", "C major", "C");
  feel_of_hits(1, near, 2);
  play(0, &rng);
  cr_assert_eq(bar.n_notes, 3U, "one triad");
}

Test(comping, does_not_jump_about_between_hits_of_one_beat)
{
  static const FeelHit two[]  = {{0, 400, 70, 0}, {480, 400, 70, 0}};
  Rng                  rng    = rng_seed(15, 1);
  double               top    = 0.0;
  double               bottom = 0.0;
  begin("4/4", "C major", "C7");
  feel_of_hits(1, two, 2);
  for (unsigned i = 0; i < 60; ++i) {
    unsigned sums[2] = {0, 0};
    unsigned high    = 0;
    unsigned low     = 0;
    play(i, &rng);
    for (unsigned j = 0; j < bar.n_notes; ++j) {
      const Note note = bar.notes[j].note;
      sums[!is_struck_at(&bar.notes[j], (Tick)i * 3840)] += note.pitch;
      high = note.pitch > bar.notes[high].note.pitch ? j : high;
      low  = note.pitch < bar.notes[low].note.pitch ? j : low;
    }
    cr_assert_eq(sums[0], sums[1]);
    top += bar.notes[high].note.velocity;
    bottom += bar.notes[low].note.velocity;
  }
  cr_assert_gt(top, bottom + 60.0, "the top note does not sing");
}

Test(comping, keeps_silent_under_roots)
{
  Rng rng = rng_seed(8, 1);
  begin("4/4", "C major", "C");
  feel_of_hits(1, charleston, 2);
  const Cue cue = {&chart, &feel, 120.0, 0, BAND_ROOTS, NULL};
  bar.n_notes   = 0;
  comping_play(&comping, &cue, &rng, &bar);
  cr_assert_eq(bar.n_notes, 0U);
}

Test(comping, ends_on_pitches_that_do_not_sound_any_more)
{
  Rng rng = rng_seed(9, 1);
  begin("4/4", "C major", "Cmaj7|Fmaj7");
  feel_of_hits(1, push, 2);
  play(1, &rng); // Ends on Cmaj7, held over the line
  BandBar     before = bar;
  const Cue   cue    = {&chart, &feel, 120.0, 2 * 3840, BAND_FULL, NULL};
  const Chord tonic  = chord_named("Cmaj7");
  bar.n_notes        = 0;
  comping_end(&comping, &cue, &tonic, &rng, &bar);
  cr_assert_geq(bar.n_notes, 3U);
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    cr_assert_leq(bar.notes[i].note.tick + bar.notes[i].note.length, 3 * 3840);
    for (unsigned j = 0; j < before.n_notes; ++j) {
      const Note held = before.notes[j].note;
      cr_assert(held.pitch != bar.notes[i].note.pitch ||
                held.tick + held.length <= bar.notes[i].note.tick);
    }
  }
}

// Under a low line there may be no other voicing than what still sounds
Test(comping, ends_on_other_pitches_under_a_low_line_too)
{
  const Chord tonic = chord_named("Cmaj7");
  for (uint8_t low = VOICING_LOWEST; low <= VOICING_HIGHEST; ++low) {
    Rng  rng  = rng_seed(9, 1);
    Solo solo = solo_silent();
    begin("4/4", "C major", "Cmaj7|Fmaj7");
    feel_of_hits(1, push, 2);
    solo_add(&solo, (SoloNote){0, 4 * 3840, low});
    const Cue held = {&chart, &feel, 120.0, 3840, BAND_FULL, &solo};
    bar.n_notes    = 0;
    comping_play(&comping, &held, &rng, &bar);
    BandBar   before = bar;
    const Cue cue    = {&chart, &feel, 120.0, 2 * 3840, BAND_FULL, &solo};
    bar.n_notes      = 0;
    comping_end(&comping, &cue, &tonic, &rng, &bar);
    for (unsigned i = 0; i < bar.n_notes; ++i) {
      for (unsigned j = 0; j < before.n_notes; ++j) {
        const Note still = before.notes[j].note;
        cr_assert(still.pitch != bar.notes[i].note.pitch ||
                  still.tick + still.length <= bar.notes[i].note.tick);
      }
    }
  }
}

Test(comping, changes_its_top_note_now_and_then_on_one_chord)
{
  Rng rng = rng_seed(10, 1);
  begin("4/4", "C major", "C7");
  feel_of_hits(1, on_one, 1);
  unsigned n_changed = 0;
  unsigned top       = 0;
  for (unsigned i = 0; i < 40; ++i) {
    play(i, &rng);
    unsigned its = 0;
    for (unsigned j = 0; j < bar.n_notes; ++j) {
      its = bar.notes[j].note.pitch > its ? bar.notes[j].note.pitch : its;
    }
    n_changed += i > 0 && its != top;
    top = its;
  }
  cr_assert_geq(n_changed, 4U);
  cr_assert_leq(n_changed, 24U);
}
