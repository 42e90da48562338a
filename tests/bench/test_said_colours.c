#include "said_colours.h"

#include <criterion/criterion.h>

// Phrases made for the test; what they hold is counted by hand. Chord tones and
// scales of C7 in C are common practice, no source.

static Said
eighths(const int* const pitches, const unsigned n)
{
  Said said      = {.turn = 2 * SAID_BAR, .n_notes = n, .n_chords = 1};
  said.chords[0] = said_chord("C7");
  for (unsigned i = 0; i < n; ++i) {
    const long tick = (long)i * 480;
    said.notes[i]   = (SaidNote){tick, 400, tick, pitches[i], false};
  }
  return said;
}

Test(said_colours, outside_notes_led_and_left)
{
  static const int led[]   = {60, 66, 67, 68, 67}; // F# to G, Ab to G
  static const int left[]  = {60, 66, 72};
  static const int third[] = {60, 61, 64};     // Db to E is no step
  static const int round[] = {60, 68, 66, 67}; // Ab F# G: from both sides
  static const int fifth[] = {67, 66, 65};     // Gb to F, no tone of C7
  static const int blue[]  = {63, 64, 69, 67}; // Eb E A G: at home in C7
  Said             said    = eighths(led, 5);
  cr_expect_eq(colours_outside(&said), 2);
  cr_expect_eq(colours_hanging(&said), 0);
  said = eighths(left, 3);
  cr_expect_eq(colours_hanging(&said), 1);
  said = eighths(third, 3);
  cr_expect_eq(colours_hanging(&said), 1);
  said = eighths(round, 4);
  cr_expect_eq(colours_outside(&said), 2);
  cr_expect_eq(colours_hanging(&said), 0);
  said = eighths(fifth, 3);
  cr_expect_eq(colours_hanging(&said), 0);
  said.notes[2].pitch = 62; // A third down, to no tone
  cr_expect_eq(colours_hanging(&said), 1);
  said = eighths(blue, 4);
  cr_expect_eq(colours_outside(&said), 0);
}

/// Written as a triad it is the seventh chord: over Bdim Ab is at home, over a
/// half-diminished chord it is not (common practice, no source).
Test(said_colours, a_diminished_chord_has_its_seventh)
{
  static const int line[] = {71, 68, 62}; // B Ab D
  Said             said   = eighths(line, 3);
  said.chords[0]          = said_chord("Bdim");
  cr_expect_eq(colours_outside(&said), 0);
  said.chords[0] = said_chord("Bdim7");
  cr_expect_eq(colours_outside(&said), 0);
  said.chords[0] = said_chord("Bm7b5");
  cr_expect_eq(colours_outside(&said), 1);
}

Test(said_colours, an_outside_note_waits_a_beat_at_most)
{
  static const int led[] = {60, 66, 67};
  Said             said  = eighths(led, 3);
  said.notes[2].grid     = 480 + 960;
  cr_expect_eq(colours_hanging(&said), 0);
  said.notes[2].grid += 480;
  cr_expect_eq(colours_hanging(&said), 1);
}

Test(said_colours, an_anticipation_is_of_the_next_chord)
{
  static const int early[] = {60, 64, 67, 68, 73}; // Ab of Db, then a leap
  Said             said    = eighths(early, 5);
  cr_expect_eq(colours_hanging(&said), 2);
  said.chords[1]      = said_chord("Db");
  said.chords[1].tick = 1920;
  said.n_chords       = 2;
  cr_expect_eq(colours_hanging(&said), 0);
  said.chords[1].tick = 1920 + 480; // Later than half a beat
  cr_expect_eq(colours_hanging(&said), 1);
}

Test(said_colours, an_anticipation_is_at_home)
{
  static const int early[] = {60, 64, 67, 68}; // Ab of Db
  const Said       call    = {.turn = 2 * SAID_BAR};
  Said             said    = eighths(early, 4);
  cr_expect_float_eq(colours_at_home(&said, &call), 0.75, 1e-9);
  said.chords[1]      = said_chord("Db");
  said.chords[1].tick = 1920;
  said.n_chords       = 2;
  cr_expect_float_eq(colours_at_home(&said, &call), 1.0, 1e-9);
}

Test(said_colours, a_pick_up_sounds_over_the_chord_before)
{
  Said          said;
  json_t* const report =
    json_pack("{s:s, s:[{s:i, s:i, s:[{s:i, s:s}]},"
              " {s:i, s:i, s:[{s:i, s:s}], s:[{s:i, s:i, s:i, s:i}]}]}",
              "key",
              "C major",
              "turns",
              "start_tick",
              0,
              "end_tick",
              3840,
              "chords",
              "tick",
              0,
              "symbol",
              "Db7",
              "start_tick",
              3840,
              "end_tick",
              7680,
              "chords",
              "tick",
              3840,
              "symbol",
              "C7",
              "notes",
              "tick",
              2880,
              "grid_tick",
              2880,
              "length",
              480,
              "pitch",
              68);
  cr_assert(report != NULL);
  cr_assert(said_read(&said, report, 1));
  cr_expect_eq(colours_outside(&said), 0); // Ab over Db7
  cr_expect_eq(said_chord_at(&said, 0)->root, 0);
  json_decref(report);
}

Test(said_colours, runs)
{
  static const int run[]    = {60, 62, 64, 65, 67};
  static const int turned[] = {60, 62, 64, 62, 64, 65};
  static const int leaps[]  = {60, 64, 67, 70, 74};
  Said             said     = eighths(run, 5);
  cr_expect(colours_has_run(&said));
  said = eighths(run, 4);
  cr_expect_not(colours_has_run(&said));
  said = eighths(turned, 6);
  cr_expect_not(colours_has_run(&said));
  said = eighths(leaps, 5);
  cr_expect_not(colours_has_run(&said));
}

Test(said_colours, pairs_of_sixteenths)
{
  static const int line[] = {60, 62, 64};
  Said             said   = eighths(line, 3);
  cr_expect_not(colours_has_pair(&said));
  said.notes[1].grid += SAID_QUARTER / 4;
  cr_expect(colours_has_pair(&said));
}

Test(said_colours, threes_across_the_bar)
{
  static const int shape[] = {60, 64, 67, 60, 64, 67, 60, 64, 67, 60};
  static const int scale[] = {60, 62, 64, 65, 67, 69, 71, 72, 74, 76};
  Said             said    = eighths(shape, 10);
  cr_expect(colours_has_threes(&said)); // 3 + 3 + 3 over the line at 8
  said = eighths(shape, 6);
  cr_expect_not(colours_has_threes(&said)); // All within a bar
  said = eighths(scale, 10);
  cr_expect_not(colours_has_threes(&said)); // Groups of nothing
  for (unsigned i = 0; i < 4; ++i) {        // Dotted crotchets from beat 3
    said.notes[i].grid = 1920 + (long)i * 1440;
  }
  said.n_notes = 3;
  cr_expect(colours_has_threes(&said));
}

Test(said_colours, hands_range_and_turn)
{
  static const int wide[] = {60, 73, 60};
  Said             said   = eighths(wide, 3);
  cr_expect_eq(colours_stretches(&said, 200.0, 12), 2); // 150 ms apart
  cr_expect_eq(colours_stretches(&said, 60.0, 12), 0);  // 500 ms
  cr_expect_eq(colours_out_of_range(&said, 60, 72), 1);
  cr_expect_eq(colours_out_of_turn(&said), 0);
  said.notes[1].length = 481;
  cr_expect_eq(colours_out_of_turn(&said), 1);
  said.notes[0].tick = -1441;
  cr_expect_eq(colours_out_of_turn(&said), 2);
}

Test(said_colours, tones_of_the_call_are_at_home)
{
  static const int pitches[] = {60, 62, 65, 67};
  static const int used[]    = {74};
  const Said       said      = eighths(pitches, 4);
  const Said       call      = eighths(used, 1);
  cr_expect_float_eq(colours_at_home(&said, &call), 0.75, 1e-9);
}
