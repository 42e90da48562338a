// The goal of a chorus; common practice, no source.

#include "responder/session/aim.h"

#include <criterion/criterion.h>

static const AimTurn none = {.has_notes = true,
                             .could     = {true, true, true, true}};

static AimStand
after(const Aim aim, const unsigned n_met, const unsigned n_turns)
{
  AimStand stand = {.aim = aim};
  for (unsigned i = 0; i < n_turns; ++i) {
    AimTurn turn = none;
    for (unsigned j = 0; j < N_AIMS; ++j) {
      turn.reached[j] = i < n_met;
    }
    aim_add(&stand, &turn);
  }
  return stand;
}

Test(aim, landing_comes_first_until_all_chord_tones_are_played)
{
  const NotesRung three = {.chord_tones = 3};
  const NotesRung four  = {.chord_tones = 4};
  for (uint64_t seed = 0; seed < 8; ++seed) {
    cr_assert_eq(aim_begin(&three, seed).aim, AIM_LAND);
    cr_assert_eq(aim_begin(&four, seed).aim, (Aim)(seed % N_AIMS));
  }
}

Test(aim, three_turns_of_five_are_most)
{
  static const AimGrade grades[] = {
    AIM_NOT, AIM_IN_PART, AIM_IN_PART, AIM_MOSTLY, AIM_MOSTLY, AIM_WHOLLY};
  for (Aim aim = AIM_LAND; aim <= AIM_TAKE_UP; ++aim) {
    for (unsigned n = 0; n <= 5; ++n) {
      const AimStand stand = after(aim, n, 5);
      cr_assert_eq(aim_grade(&stand), grades[n], "%u of 5", n);
    }
  }
}

Test(aim, a_thing_said_twice_once_is_enough)
{
  const AimStand never = after(AIM_TWICE, 0, 5);
  const AimStand once  = after(AIM_TWICE, 1, 5);
  cr_assert_eq(aim_grade(&never), AIM_NOT);
  cr_assert_eq(aim_grade(&once), AIM_WHOLLY);
}

// Who plays before the partner has said anything takes up nothing
Test(aim, counts_what_could_be_reached)
{
  AimStand stand           = {.aim = AIM_TAKE_UP};
  AimTurn  first           = none;
  first.could[AIM_TAKE_UP] = false;
  aim_add(&stand, &first);
  cr_assert_not(aim_is_heard(&stand));
  cr_assert_eq(aim_next(&stand).aim, AIM_TAKE_UP);
  cr_assert_not(aim_next(&stand).is_again);
  AimTurn second              = none;
  second.reached[AIM_TAKE_UP] = true;
  aim_add(&stand, &second);
  cr_assert(aim_is_heard(&stand));
  cr_assert_eq(aim_grade(&stand), AIM_WHOLLY);
}

// A silent turn leaves room, but asks for something else than silence
Test(aim, silence_has_room)
{
  static const AimTurn silent = {.could   = {[AIM_ROOM] = true},
                                 .reached = {[AIM_ROOM] = true}};
  AimStand             stand  = {.aim = AIM_ROOM};
  aim_add(&stand, &silent);
  cr_assert_not(aim_is_heard(&stand));
  cr_assert_eq(aim_next(&stand).aim, AIM_TAKE_UP);
  aim_add(&stand, &none);
  cr_assert(aim_is_heard(&stand));
  cr_assert_eq(aim_grade(&stand), AIM_IN_PART);
}

Test(aim, stays_for_one_chorus_more_if_it_was_missed)
{
  AimStand stand = after(AIM_ROOM, 0, 3);
  stand          = aim_next(&stand);
  cr_assert_eq(stand.aim, AIM_ROOM);
  cr_assert(stand.is_again);
  aim_add(&stand, &none);
  stand = aim_next(&stand);
  cr_assert_neq(stand.aim, AIM_ROOM);
}

Test(aim, goes_on_to_what_fell_behind)
{
  AimStand stand         = {.aim = AIM_LAND};
  AimTurn  turn          = none;
  turn.reached[AIM_LAND] = turn.reached[AIM_ROOM] = turn.reached[AIM_TWICE] =
    true;
  aim_add(&stand, &turn);
  cr_assert_eq(aim_next(&stand).aim, AIM_TAKE_UP);
}

// What could seldom be reached, and was, is not behind
Test(aim, goes_on_to_what_was_missed_and_not_to_what_was_rare)
{
  const AimStand stand = {
    .aim     = AIM_ROOM,
    .n_turns = 4,
    .n_could =
      {[AIM_ROOM] = 4, [AIM_LAND] = 4, [AIM_TWICE] = 3, [AIM_TAKE_UP] = 3},
    .n_met = {
      [AIM_ROOM] = 4, [AIM_LAND] = 3, [AIM_TWICE] = 3, [AIM_TAKE_UP] = 3}};
  cr_assert_eq(aim_next(&stand).aim, AIM_LAND);
}

Test(aim, waits_through_a_silent_chorus)
{
  const AimStand silent = {.aim = AIM_TAKE_UP};
  cr_assert_eq(aim_next(&silent).aim, AIM_TAKE_UP);
  cr_assert_not(aim_next(&silent).is_again);
}
