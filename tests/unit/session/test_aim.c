// The goal of a chorus; common practice, no source.

#include "responder/session/aim.h"

#include <criterion/criterion.h>

static const bool none[N_AIMS] = {false, false, false, false};

static AimStand
after(const Aim aim, const unsigned n_met, const unsigned n_turns)
{
  AimStand stand = {.aim = aim};
  for (unsigned i = 0; i < n_turns; ++i) {
    const bool reached[N_AIMS] = {i < n_met, i < n_met, i < n_met, i < n_met};
    aim_add(&stand, reached);
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

Test(aim, is_met_by_three_turns_of_five)
{
  for (Aim aim = AIM_LAND; aim <= AIM_TAKE_UP; ++aim) {
    const AimStand few    = after(aim, 2, 5);
    const AimStand enough = after(aim, 3, 5);
    cr_assert_not(aim_is_met(&few));
    cr_assert(aim_is_met(&enough));
  }
}

Test(aim, a_thing_said_twice_once_is_enough)
{
  const AimStand never = after(AIM_TWICE, 0, 5);
  const AimStand once  = after(AIM_TWICE, 1, 5);
  cr_assert_not(aim_is_met(&never));
  cr_assert(aim_is_met(&once));
}

Test(aim, stays_for_one_chorus_more_if_it_was_missed)
{
  AimStand stand = after(AIM_ROOM, 0, 3);
  stand          = aim_next(&stand);
  cr_assert_eq(stand.aim, AIM_ROOM);
  cr_assert(stand.is_again);
  aim_add(&stand, none);
  stand = aim_next(&stand);
  cr_assert_neq(stand.aim, AIM_ROOM);
}

Test(aim, goes_on_to_what_fell_behind)
{
  AimStand   stand           = {.aim = AIM_LAND};
  const bool reached[N_AIMS] = {true, true, false, true};
  aim_add(&stand, reached);
  cr_assert_eq(aim_next(&stand).aim, AIM_TAKE_UP);
}

Test(aim, waits_through_a_silent_chorus)
{
  const AimStand silent = {.aim = AIM_TAKE_UP};
  cr_assert_eq(aim_next(&silent).aim, AIM_TAKE_UP);
  cr_assert_not(aim_next(&silent).is_again);
}
