#include "responder/session/turn.h"

#include <criterion/criterion.h>

enum { BAR = 3840 };

static const TurnPlan blues_in_fours = {
  .bar_ticks       = BAR,
  .bars_per_chorus = 12,
  .bars_per_turn   = 4,
  .player_begins   = true,
};

// Trading fours over twelve bars: three turns a chorus, so that whoever ends
// one chorus does not begin the next (common practice, no source).
Test(turn, alternates_across_choruses)
{
  for (unsigned index = 1; index <= 12; ++index) {
    const Turn turn = turn_at(blues_in_fours, index);
    cr_assert_eq(turn.by_player, index % 2 == 1);
    cr_assert_eq(turn.start, (Tick)(index - 1) * 4 * BAR);
    cr_assert_eq(turn.end, (Tick)index * 4 * BAR);
    cr_assert_eq(turn.first_bar, (index - 1) * 4 + 1);
    cr_assert_eq(turn.ends_chorus, index % 3 == 0);
  }
}

Test(turn, counts_the_turns_of_one_player)
{
  cr_assert_eq(turn_at(blues_in_fours, 1).turns_in_chorus, 2);
  cr_assert_eq(turn_at(blues_in_fours, 2).turns_in_chorus, 1);
  cr_assert_eq(turn_at(blues_in_fours, 3).turn_in_chorus, 1);
  cr_assert_eq(turn_at(blues_in_fours, 4).turns_in_chorus, 2);
  cr_assert(turn_at(blues_in_fours, 4).begins_chorus);
  cr_assert_not(turn_at(blues_in_fours, 3).begins_chorus);
}

Test(turn, cuts_the_last_of_a_chorus_short)
{
  TurnPlan plan        = blues_in_fours;
  plan.bars_per_chorus = 10;
  const Turn short_one = turn_at(plan, 3);
  cr_assert_eq(short_one.end - short_one.start, 2 * BAR);
  cr_assert(short_one.ends_chorus);
  cr_assert_eq(turn_at(plan, 4).start, 10 * BAR);
}

// Turns tile the time: none overlaps, none leaves a gap
Test(turn, tiles_the_form)
{
  for (unsigned bars = 1; bars <= 40; ++bars) {
    for (unsigned turn_bars = 1; turn_bars <= 4; turn_bars *= 2) {
      const TurnPlan plan = {
        .bar_ticks       = BAR,
        .bars_per_chorus = bars,
        .bars_per_turn   = turn_bars,
      };
      for (unsigned index = 1; index < 60; ++index) {
        const Turn a = turn_at(plan, index);
        const Turn b = turn_at(plan, index + 1);
        cr_assert_eq(a.end, b.start);
        cr_assert_gt(a.end, a.start);
        cr_assert_neq(a.by_player, b.by_player);
        cr_assert_lt(a.turn_in_chorus, a.turns_in_chorus);
        cr_assert_eq(a.ends_chorus, a.end % (bars * BAR) == 0);
      }
    }
  }
}

// Where room was opened, every turn of the player's has one as long after it:
// the answer sounds over the same chords as its call.
Test(turn, answers_as_long_as_the_call_where_room_was_opened)
{
  for (unsigned form = 1; form <= 40; ++form) {
    for (unsigned turn_bars = 1; turn_bars <= 4; turn_bars *= 2) {
      const TurnPlan plan = {
        .bar_ticks       = BAR,
        .bars_per_chorus = 2 * form,
        .bars_per_turn   = turn_bars,
        .player_begins   = true,
        .makes_room      = true,
      };
      for (unsigned index = 1; index < 60; index += 2) {
        const Turn call   = turn_at(plan, index);
        const Turn answer = turn_at(plan, index + 1);
        cr_assert(call.by_player);
        cr_assert_not(answer.by_player);
        cr_assert_eq(call.end, answer.start);
        cr_assert_eq(call.end - call.start, answer.end - answer.start);
        cr_assert_eq(answer.ends_chorus, answer.end % (2 * form * BAR) == 0);
        cr_assert_eq(call.turn_in_chorus, answer.turn_in_chorus);
        cr_assert_eq(call.turns_in_chorus, answer.turns_in_chorus);
      }
    }
  }
}

// Ten bars in turns of four, with room: 4 4, 4 4, 2 2
Test(turn, halves_a_short_last_group)
{
  const TurnPlan plan = {
    .bar_ticks       = BAR,
    .bars_per_chorus = 20,
    .bars_per_turn   = 4,
    .player_begins   = true,
    .makes_room      = true,
  };
  static const unsigned first_bars[] = {1, 5, 9, 13, 17, 19, 21, 25};
  for (unsigned i = 0; i < sizeof(first_bars) / sizeof(*first_bars); ++i) {
    cr_assert_eq(turn_at(plan, i + 1).first_bar, first_bars[i]);
  }
  cr_assert(turn_at(plan, 6).ends_chorus);
  cr_assert(turn_at(plan, 7).begins_chorus);
}
