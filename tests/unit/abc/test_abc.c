// ABC by hand, after The abc music standard 2.1 (abcnotation.com, December
// 2011): 4.1 pitch, 4.2 accidentals, 4.3 note lengths, 4.11 ties, 4.12 grace
// notes, 4.13 tuplets, 4.17 chords, 4.18 chord symbols, 3.1 information fields.

#include "core/abc/abc.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

enum { QUARTER = TICKS_PER_QUARTER, EIGHTH = QUARTER / 2, MOST = 64 };

static Chart       chart;
static WrittenNote notes[MOST];
static size_t      n_notes;
static Column      columns[MOST];

static void
begin(const char* const key_words,
      const Meter       meter,
      const char* const first_bar,
      const char* const second_bar)
{
  char fault[CHART_FAULT_CAPACITY];
  Key  key;
  cr_assert_eq(key_parse(&key, key_words), STATUS_OK);
  chart_begin(&chart, "T", meter, key);
  cr_assert_eq(chart_add_bar(&chart, first_bar, fault), STATUS_OK);
  cr_assert_eq(chart_add_bar(&chart, second_bar, fault), STATUS_OK);
  n_notes = 0;
}

static void
add(const Tick tick, const Tick length, const unsigned pitch)
{
  notes[n_notes++] = (WrittenNote){.tick       = tick,
                                   .heard      = tick,
                                   .sounding   = length,
                                   .chord_tick = tick,
                                   .pitch      = (uint8_t)pitch};
}

static char*
written_by(const AbcLayout* const layout,
           const Tick             pick_up,
           const double           swing_ratio)
{
  static const ScoreLabel label = {0, "turn \"1\""};
  size_t                  n     = n_notes;
  ScorePart part = {.name = "Player", .labels = &label, .n_labels = 1};
  part.staves[0].n_columns =
    written_columns(chart.meter, notes, &n, chart_ticks(&chart), columns);
  part.staves[0].notes   = notes;
  part.staves[0].columns = columns;
  const Score score      = {.title          = "50 % blues",
                            .chart          = &chart,
                            .tempo_bpm      = 120.0,
                            .swing_ratio    = swing_ratio,
                            .pick_up        = pick_up,
                            .n_bars         = 2,
                            .marks_choruses = true,
                            .parts          = &part,
                            .n_parts        = 1};
  char*       text       = NULL;
  size_t      size       = 0;
  cr_assert_eq(abc_text(&score, layout, &text, &size), STATUS_OK);
  cr_assert_eq(strlen(text), size);
  return text;
}

static char*
written_of(const Tick pick_up, const double swing_ratio)
{
  static const AbcLayout plain = {
    .bars_per_line = 4, .width_cm = 18.0, .has_title = true};
  return written_by(&plain, pick_up, swing_ratio);
}

static void
expect(const char* const music, const Tick pick_up, const double swing_ratio)
{
  char* const text = written_of(pick_up, swing_ratio);
  cr_assert_not_null(strstr(text, music), "wanted: %s\nfound: %s", music, text);
  free(text);
}

Test(abc, pitches_lengths_and_rests)
{
  begin("C major", (Meter){4, 4}, "C7", "F7");
  add(0, QUARTER, 48);          // C below middle C
  add(QUARTER, QUARTER, 60);    // middle C
  add(2 * QUARTER, EIGHTH, 72); // c
  add(2 * QUARTER + EIGHTH, EIGHTH, 84);
  expect("\"^turn '1'\"\"C7\"C,4 C4 c2c'2 z4 | \"F7\"z16 |]", 0, 1.0);
}

Test(abc, the_fields_of_the_head)
{
  begin("Eb minor", (Meter){12, 8}, "i7", "iv7");
  expect("\nM:12/8\nL:1/16\nQ:3/8=80\n", 0, 1.6); // Compound time swings not
  expect("\nK:Ebm\n", 0, 1.0);
  expect("T:50 \\% blues\n", 0, 1.0);
  begin("F# major", (Meter){3, 4}, "I7", "IV7");
  expect("\nQ:\"Swing    \" 1/4=120\n", 0, 1.6);
  expect("\nK:F#\n", 0, 1.0);
}

// A sharp counts until the bar line, in its octave (said by the directive)
Test(abc, accidentals_once_a_bar)
{
  begin("C major", (Meter){4, 4}, "D7", "D7");
  add(0, QUARTER, 66);
  add(QUARTER, QUARTER, 66);
  add(2 * QUARTER, QUARTER, 78);
  add(3 * QUARTER, QUARTER, 65);
  add(4 * QUARTER, QUARTER, 69);
  add(5 * QUARTER, QUARTER, 66);
  expect("^F4 F4 ^f4 =F4 | A4 ^F4", 0, 1.0);
  expect("\n%%propagate-accidentals octave\n", 0, 1.0);
}

Test(abc, triplets_ties_and_chords)
{
  begin("C major", (Meter){4, 4}, "C", "C");
  add(0, 320, 60);
  add(320, 320, 62);
  add(640, 320, 64);
  add(QUARTER, QUARTER, 60);
  add(QUARTER, QUARTER, 64);
  add(3 * QUARTER, 2 * QUARTER, 67);
  expect("(3:2:3C2D2E2 [CE]4 z4 G4- | G4 z4 z8 |]", 0, 1.0);
}

Test(abc, grace_notes_are_slashed)
{
  begin("C major", (Meter){4, 4}, "C7", "C7");
  add(0, 60, 63);
  notes[0].is_grace = true;
  add(0, QUARTER, 64);
  notes[1].heard = 60;
  expect("\"C7\"{/^D}E4", 0, 1.0);
}

Test(abc, fingers_stand_before_their_notes)
{
  begin("C major", (Meter){4, 4}, "C7", "C7");
  add(0, QUARTER, 60);
  notes[0].finger = 1;
  add(QUARTER, QUARTER, 64);
  notes[1].finger = 3;
  expect("!1!C4 !3!E4", 0, 1.0);
}

// A change under a held note is named over a voice of its own
Test(abc, a_chord_changes_while_a_note_sounds)
{
  begin("C major", (Meter){4, 4}, "C7 F7", "C7");
  add(0, 4 * QUARTER, 67);
  expect("G16 & \"C7\"x4 x4 \"F7\"x4 x4 | ", 0, 1.0);
}

Test(abc, a_pick_up_has_a_measure_and_no_chord)
{
  begin("C major", (Meter){4, 4}, "C7", "C7");
  add(-QUARTER, EIGHTH, 64);
  add(-EIGHTH, EIGHTH, 65);
  add(0, QUARTER, 67);
  expect("\nV:1\nE2F2 | ", QUARTER, 1.0);
}

static void
expect_lines(const char* const music, const Tick pick_up)
{
  static const AbcLayout narrow = {.bars_per_line = 1, .width_cm = 9.0};
  char* const            text   = written_by(&narrow, pick_up, 1.0);
  cr_expect_not_null(strstr(text, music), "wanted: %s\nfound: %s", music, text);
  free(text);
}

// ... and stands in the line that it leads into; common practice, no source
Test(abc, lines_are_counted_without_a_pick_up)
{
  begin("C major", (Meter){4, 4}, "C7", "F7");
  add(0, QUARTER, 67);
  expect_lines("G4 z4 z8 | \nV:1\n\"F7\"z16 |]", 0);
  n_notes = 0;
  add(-QUARTER, QUARTER, 65);
  add(0, QUARTER, 67);
  expect_lines("\nV:1\nF4 | ", QUARTER);
  expect_lines("| \"^turn '1'\"\"C7\"G4 z4 z8 | \nV:1\n\"F7\"z16 |]", QUARTER);
}

// Where there are to be so many lines, the last has what is left
Test(abc, there_are_no_more_lines_than_wanted)
{
  const AbcLayout one = {.bars_per_line = 1, .n_lines = 1, .width_cm = 9.0};
  const AbcLayout two = {.bars_per_line = 1, .n_lines = 2, .width_cm = 9.0};
  begin("C major", (Meter){4, 4}, "C7", "F7");
  add(0, QUARTER, 67);
  char* const whole  = written_by(&one, 0, 1.0);
  char* const halves = written_by(&two, 0, 1.0);
  cr_expect_not_null(strstr(whole, "G4 z4 z8 | \"F7\"z16 |]\n"), "%s", whole);
  cr_expect_not_null(
    strstr(halves, "G4 z4 z8 | \nV:1\n\"F7\"z16 |]\n"), "%s", halves);
  free(halves);
  free(whole);
}
