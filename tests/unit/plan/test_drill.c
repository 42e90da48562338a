#include "profiles/plan/drill.h"

#include "profiles/files/ladder_file.h"

#include <criterion/criterion.h>

// What each drill is, by drill.h; its chances and lengths are common practice,
// no source.

enum { BEAT = TICKS_PER_QUARTER, BAR = 4 * BEAT, N_DRAWN = 2000 };

static Chart  chart;
static Drill  drill;
static Ladder ladder;

static void
load_chart(const unsigned beats)
{
  char              fault[CHART_FAULT_CAPACITY];
  const char* const bars[] = {"C7", "F7", "C7", "G7"};
  Key               key;
  cr_assert_eq(key_parse(&key, "C major"), STATUS_OK);
  chart_begin(&chart, "T", (Meter){(uint8_t)beats, 4}, key);
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(chart_add_bar(&chart, bars[i], fault), STATUS_OK);
  }
  cr_assert_eq(chart_set_scale(&chart, CHART_BAR_CAPACITY, "minor blues"), 0);
  Faults faults = {.n_faults = 0};
  cr_assert_eq(
    ladder_file_load(&ladder, BARTER_SOURCE_DIR "/config/ladder.cfg", &faults),
    STATUS_OK);
}

static void
load(void)
{
  load_chart(4);
}

static DrillRoom
room_at(const unsigned rhythm)
{
  return (DrillRoom){.chart  = &chart,
                     .ladder = &ladder,
                     .lowest = 60,
                     .split  = 60,
                     .rhythm = rhythm,
                     .notes  = N_NOTES_RUNGS};
}

static void
make(const DrillKind kind, const unsigned rhythm, const unsigned round)
{
  const DrillRoom room = room_at(rhythm);
  Rng             rng  = rng_seed(round, 7);
  drill_make(&drill, kind, &room, round, &rng);
}

static unsigned
pitch_at(const unsigned i)
{
  return drill.notes[i].pitch;
}

/// Up and down an octave from C; every other round from the top.
Test(drill, a_scale_goes_up_and_down_an_octave, .init = load)
{
  make(DRILL_SCALE_RIGHT, 2, 0);
  const unsigned last = drill.n_notes - 1;
  cr_assert_eq(pitch_at(0), 60);
  cr_assert_eq(pitch_at(last / 2), 72);
  cr_assert_eq(pitch_at(last), 60);
  make(DRILL_SCALE_RIGHT, 2, 1);
  cr_assert_eq(pitch_at(0), 72);
  cr_assert_eq(pitch_at(last / 2), 60);
  cr_assert_eq(pitch_at(last), 72);
}

/// Nine quarters fill three bars of three, and no more; nine eighths need two.
Test(drill, takes_as_many_bars_as_its_notes_fill)
{
  load_chart(3);
  const DrillRoom quarters = room_at(1);
  const DrillRoom eighths  = room_at(2);
  cr_assert_eq(drill_bars(DRILL_CHORD_TONES, &quarters), 3);
  cr_assert_eq(drill_bars(DRILL_CHORD_TONES, &eighths), 2);
}

/// Of the beats after the first, six in ten begin a note; the last is a rest.
Test(drill, a_rhythm_leaves_room, .init = load)
{
  unsigned n_onsets = 0;
  for (unsigned round = 0; round < N_DRAWN; ++round) {
    make(DRILL_RHYTHM, 1, round);
    n_onsets += drill.n_notes - 1;
    for (unsigned i = 0; i < drill.n_notes; ++i) {
      const Tick tick = drill.notes[i].tick;
      const Tick next =
        i + 1 < drill.n_notes ? drill.notes[i + 1].tick : tick + BEAT / 2;
      cr_assert_lt(tick, BAR - BEAT);
      cr_assert_eq(drill.notes[i].length, (next - tick) * 4 / 5);
    }
  }
  cr_assert_float_eq(n_onsets / (2.0 * N_DRAWN), 0.6, 0.03);
}

/// From the fifth rung on a quarter of the beats that begin a note are in
/// three.
Test(drill, triplets_come_with_their_rung, .init = load)
{
  unsigned n_beats    = 0;
  unsigned n_in_three = 0;
  for (unsigned round = 0; round < N_DRAWN; ++round) {
    make(DRILL_RHYTHM, 5, round);
    for (unsigned i = 0; i < drill.n_notes; ++i) {
      n_beats += drill.notes[i].tick % BEAT == 0;
      n_in_three += drill.notes[i].tick % BEAT == BEAT / 3;
    }
    make(DRILL_RHYTHM, 4, round);
    for (unsigned i = 0; i < drill.n_notes; ++i) {
      cr_assert_eq(drill.notes[i].tick % (BEAT / 2), 0);
    }
  }
  cr_assert_float_eq((double)n_in_three / n_beats, 0.25, 0.03);
}

/// One bar asks and the next has its rhythm again, with the two tones
/// exchanged, and ends at home.
Test(drill, a_question_is_answered_at_home, .init = load)
{
  for (unsigned round = 0; round < 50; ++round) {
    make(DRILL_QUESTION, 4, round);
    const unsigned n = drill.n_notes / 2;
    cr_assert_eq(drill.n_notes, 2 * n);
    for (unsigned i = 0; i < n; ++i) {
      cr_assert_eq(drill.notes[n + i].tick, drill.notes[i].tick + BAR);
      cr_assert_eq(pitch_at(i), i % 2 ? 67 : 64, "G or E, over C7");
      cr_assert_eq(pitch_at(n + i), i + 1 == n ? 60 : i % 2 ? 64 : 67);
    }
  }
}

/// On the first beat of the second bar, for two beats; each time that a chord
/// comes round on another of its tones.
Test(drill, a_landing_is_held_on_another_tone_each_round, .init = load)
{
  make(DRILL_LANDING, 3, 0);
  const unsigned first = pitch_at(2);
  cr_assert_eq(drill.n_notes, 3);
  cr_assert_eq(drill.notes[2].tick, BAR);
  cr_assert_eq(drill.notes[2].length, 2 * BEAT);
  cr_assert_eq(drill.notes[0].length, BEAT * 4 / 5);
  make(DRILL_LANDING, 3, 3);
  cr_assert_eq(spelling_pitch_class(drill.chord.root), 0, "C7 again");
  cr_assert_neq(pitch_at(2), first);
}

/// A semitone below each tone, on the beat.
Test(drill, a_crushed_note_leans_from_below, .init = load)
{
  make(DRILL_CRUSHED, 3, 0);
  for (unsigned i = 0; i < drill.n_notes; i += 2) {
    cr_assert_eq(drill.notes[i].tick, i / 2 * BEAT);
    cr_assert_eq(drill.notes[i].length, 60);
    cr_assert_eq(pitch_at(i) + 1, pitch_at(i + 1));
    cr_assert_eq(drill.notes[i + 1].tick, drill.notes[i].tick + 60);
    cr_assert(chord_has_core_tone(&drill.chord, pitch_at(i + 1)));
  }
}
