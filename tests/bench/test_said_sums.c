#include "said_sums.h"

#include <criterion/criterion.h>

// Expected values are counted by hand on the phrases below; chord tones of C7
// (C E G Bb) are common practice, no source.

static const Said call = {
  .turn    = 3840,
  .n_notes = 4,
  .notes   = {{0, 400, 0, 60, false},
              {480, 400, 480, 64, false},
              {960, 900, 960, 67, false},
              {1920, 900, 1920, 64, false}},
};

static Said
shifted(void)
{
  Said said      = call;
  said.n_chords  = 1;
  said.chords[0] = said_chord("C7");
  for (unsigned i = 0; i < said.n_notes; ++i) {
    said.notes[i].tick += 480;
    said.notes[i].grid += 480;
    said.notes[i].pitch -= 7;
  }
  return said;
}

Test(said_sums, a_shifted_call_is_one_cell_and_no_copy)
{
  const Said answer = shifted();
  cr_expect_eq(sums_cell(&call, &answer), 4);
  cr_expect(sums_contour_alike(&call, &answer));
  cr_expect_not(sums_starts_alike(&call, &answer));
  cr_expect_float_eq(sums_onsets_shared(&call, &call), 1.0, 1e-9);
  // 480 and 960 of 0 480 960 1440 1920 2400
  cr_expect_float_eq(sums_onsets_shared(&call, &answer), 2.0 / 6.0, 1e-9);
}

Test(said_sums, a_turned_call_is_no_cell)
{
  Said answer = shifted();
  for (unsigned i = 0; i < answer.n_notes; ++i) {
    answer.notes[i].pitch = 120 - answer.notes[i].pitch;
  }
  // The minim is its only rise, and the only fall of the call
  cr_expect_eq(sums_cell(&call, &answer), 0);
  cr_expect_not(sums_contour_alike(&call, &answer));
}

Test(said_sums, ends_and_ornaments)
{
  Said answer = call;
  cr_expect(sums_arrives(&answer));
  cr_expect(sums_rest_follows(&answer));
  cr_expect_float_eq(sums_silence(&answer), 1.0 - 2600.0 / 3840.0, 1e-9);
  answer.notes[3].grid = 2400;
  cr_expect_not(sums_arrives(&answer));
  answer.notes[3].grid = 3360; // 4&: the next bar's 1, anticipated
  cr_expect(sums_arrives(&answer));
  answer.notes[3].length = 10;
  cr_expect_not(sums_rests_last(&answer));
  answer.notes[3].is_ornament = true;
  cr_expect_eq(sums_graces(&answer), 1);
  cr_expect_eq(sums_notes(&answer), 3);
}

Test(said_sums, flat_five_between_fourth_and_fifth)
{
  Said said     = shifted();
  said.n_notes  = 3;
  said.notes[0] = (SaidNote){0, 400, 0, 65, false};
  said.notes[1] = (SaidNote){480, 400, 480, 66, false};
  said.notes[2] = (SaidNote){960, 400, 960, 67, false};
  Counts counts = {0};
  sums_count(&counts, &said);
  cr_expect_eq(counts.n_flat_fives, 1);
  cr_expect_eq(counts.n_flat_fives_taught, 1);
  cr_expect_eq(counts.n_on_tones, 1);
  said.notes[2].pitch = 70; // A major third on: led at the top only
  sums_count(&counts, &said);
  cr_expect_eq(counts.n_flat_fives, 2);
  cr_expect_eq(counts.n_flat_fives_taught, 1);
  cr_expect_eq(counts.n_flat_fives_led, 2);
  said.notes[2].pitch = 72; // A leap
  sums_count(&counts, &said);
  cr_expect_eq(counts.n_flat_fives_led, 2);
}

Test(said_sums, rhythm_likeness_is_an_edit_distance)
{
  Said answer = call; // Steps of 480 480 960
  cr_expect_float_eq(sums_rhythm_likeness(&call, &answer), 1.0, 1e-9);
  answer.notes[3].grid += 480; // 480 480 1440
  cr_expect_float_eq(sums_rhythm_likeness(&call, &answer), 2.0 / 3.0, 1e-9);
  answer.n_notes = 3; // 480 480
  cr_expect_float_eq(sums_rhythm_likeness(&call, &answer), 2.0 / 3.0, 1e-9);
  answer.n_notes = 1;
  cr_expect_float_eq(sums_rhythm_likeness(&call, &answer), 0.0, 1e-9);
}

Test(said_sums, last_note_may_belong_to_the_chord_half_a_beat_on)
{
  Said said           = shifted();
  said.n_chords       = 2;
  said.chords[0]      = said_chord("G7");
  said.chords[1]      = said_chord("C7");
  said.chords[1].tick = said.turn;
  said.notes[3]       = (SaidNote){3360, 400, 3360, 64, false}; // E, 4&
  cr_expect(sums_last_is_chord_tone(&said));
  said.notes[3].grid = 2880;
  cr_expect_not(sums_last_is_chord_tone(&said));
}
