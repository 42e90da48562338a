#include "responder/session/hearing.h"

#include <criterion/criterion.h>

static Hearing hearing;
static Note    notes[HEARING_CAPACITY];

static void
down(const Tick tick, const uint8_t pitch)
{
  hearing_key(&hearing, (HeardKey){tick, pitch, 80});
}

static void
up(const Tick tick, const uint8_t pitch)
{
  hearing_key(&hearing, (HeardKey){tick, pitch, 0});
}

Test(hearing, makes_notes_of_keys)
{
  down(10, 60);
  down(20, 64);
  up(30, 60);
  up(50, 64);
  cr_assert_eq(hearing_span(&hearing, 0, 100, 100, notes), 2);
  cr_assert_eq(notes[0].length, 20);
  cr_assert_eq(notes[1].length, 30);
}

Test(hearing, lets_a_held_note_last_until_now)
{
  down(10, 60);
  cr_assert_eq(hearing_span(&hearing, 0, 100, 70, notes), 1);
  cr_assert_eq(notes[0].length, 60);
}

Test(hearing, ends_a_key_that_is_struck_again)
{
  down(10, 60);
  down(25, 60);
  up(40, 60);
  cr_assert_eq(hearing_span(&hearing, 0, 100, 100, notes), 2);
  cr_assert_eq(notes[0].length, 15);
  cr_assert_eq(notes[1].length, 15);
}

Test(hearing, takes_only_the_notes_of_the_span)
{
  down(10, 60);
  up(20, 60);
  down(30, 62);
  up(40, 62);
  cr_assert_eq(hearing_span(&hearing, 11, 100, 100, notes), 1);
  cr_assert_eq(notes[0].pitch, 62);
  cr_assert_eq(hearing_span(&hearing, 0, 30, 100, notes), 1);
}

Test(hearing, forgets_and_still_hears_what_goes_on)
{
  down(10, 60);
  down(50, 62);
  hearing_forget(&hearing, 40);
  up(60, 60); // Its note is forgotten: nothing to end
  up(90, 62);
  cr_assert_eq(hearing_span(&hearing, 0, 100, 100, notes), 1);
  cr_assert_eq(notes[0].pitch, 62);
  cr_assert_eq(notes[0].length, 40);
}

Test(hearing, counts_what_it_misses)
{
  for (unsigned i = 0; i < HEARING_CAPACITY + 5; ++i) {
    down(i, 60);
    up(i + 1, 60);
  }
  cr_assert_eq(hearing.n_missed, 5);
  cr_assert_eq(hearing.n_notes, HEARING_CAPACITY);
}

Test(hearing, measures_the_share_that_sounds)
{
  down(0, 60);
  down(10, 64); // Overlaps: counts once
  up(40, 60);
  up(30, 64);
  down(80, 65); // Still sounding at 100
  cr_assert_float_eq(hearing_share(&hearing, 0, 100, 100), 0.6, 1e-9);
  cr_assert_float_eq(hearing_share(&hearing, 20, 60, 100), 0.5, 1e-9);
}

Test(hearing, knows_the_last_onset_and_the_last_sound)
{
  cr_assert_eq(hearing_last_onset(&hearing, -7), -7);
  cr_assert_eq(hearing_last_sound(&hearing, 5, -7), -7);
  down(10, 60);
  down(20, 64);
  up(30, 64);
  cr_assert_eq(hearing_last_onset(&hearing, -7), 20);
  cr_assert_eq(hearing_last_sound(&hearing, 90, -7), 90, "one still sounds");
  up(40, 60);
  cr_assert_eq(hearing_last_sound(&hearing, 90, -7), 40);
  cr_assert(hearing_has_onset(&hearing, 20, 21));
  cr_assert_not(hearing_has_onset(&hearing, 21, 90));
  cr_assert_not(hearing_has_onset(&hearing, 11, 20));
}
