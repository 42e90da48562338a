// Whose turn it is in each way of playing together, and how an echo goes on.
// What each way is comes from common practice, no source.

#include "responder/session/echo.h"
#include "responder/session/turn.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { BAR = 3840 };

// Whose turn it is

typedef struct {
  char     words[24];
  Way      way;
  unsigned bars;
  char     turns[24]; // P the partner's, p the player's; choruses after |
} PatternRow;

ParameterizedTestParameters(pattern, turns)
{
  static PatternRow rows[] = {
    {"answer, in fours", WAY_ANSWER, 4, "pPp|PpP|pPp"},
    {"question, in fours", WAY_QUESTION, 4, "PpP|pPp|PpP"},
    {"question, in twos", WAY_QUESTION, 2, "PpPpPp|pPpPpP"},
    {"echo, in twos", WAY_ECHO, 2, "PpPpPp|PpPpPp"},
    {"few notes, in fours", WAY_FEW_NOTES, 4, "pPp|PpP|pPp"},
    {"story, in fours", WAY_STORY, 4, "Ppp|pPp|Ppp"},
    {"story, in twos", WAY_STORY, 2, "PppPpp|pPppPp"},
    {"handing over", WAY_HANDING_OVER, 4, "PPP|ppp|ppp|PPP"},
    {"sing first", WAY_SING_FIRST, 4, "pPp|PpP"},
  };
  return cr_make_param_array(PatternRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(PatternRow* row, pattern, turns)
{
  const TurnPlan plan  = {.bar_ticks       = BAR,
                          .bars_per_chorus = 12,
                          .bars_per_turn   = row->bars,
                          .way             = row->way,
                          .player_begins   = true};
  unsigned       index = 0;
  for (const char* at = row->turns; *at; ++at) {
    if (*at == '|') {
      cr_assert(turn_at(plan, index).ends_chorus, "%s", row->words);
      continue;
    }
    const Turn turn = turn_at(plan, ++index);
    cr_assert_eq(turn.by_player, *at == 'p', "%s: %u", row->words, index);
    cr_assert_eq(turn.end, turn_at(plan, index + 1).silence, "%s", row->words);
  }
}

// Every story ends with a line of the player's, whatever the form's length
Test(pattern, leave_the_last_line_to_the_player)
{
  for (unsigned bars = 5; bars <= 40; ++bars) {
    const TurnPlan plan = {.bar_ticks       = BAR,
                           .bars_per_chorus = bars,
                           .bars_per_turn   = 2,
                           .way             = WAY_STORY};
    for (unsigned index = 1; index < 60; ++index) {
      const Turn turn = turn_at(plan, index);
      if (turn.ends_chorus) {
        cr_assert(turn.by_player);
        const unsigned lines = turn.task == TASK_AGAIN ? 4 : 3;
        cr_assert(turn.task == TASK_LAST || turn.task == TASK_AGAIN);
        cr_assert_eq((bars + 1) / 2 % 3 == 1, lines == 4, "%u", bars);
      }
    }
  }
}

// Questions are closed within their chorus, and nothing is closed twice
Test(pattern, close_every_question)
{
  for (unsigned bars = 3; bars <= 40; ++bars) {
    const TurnPlan plan = {.bar_ticks       = BAR,
                           .bars_per_chorus = bars,
                           .bars_per_turn   = 2,
                           .way             = WAY_QUESTION};
    for (unsigned index = 1; index < 60; ++index) {
      const Turn turn = turn_at(plan, index);
      const Turn next = turn_at(plan, index + 1);
      cr_assert(turn.task == TASK_ASK || turn.task == TASK_CLOSE);
      cr_assert(turn.task == TASK_ASK || next.task == TASK_ASK, "%u", bars);
      cr_assert_not(turn.task == TASK_ASK && turn.ends_chorus, "%u", bars);
      cr_assert(next.task == TASK_ASK || next.by_player != turn.by_player);
    }
  }
}

// What a chorus is too short to tell goes on in the next
Test(pattern, tell_short_choruses_on)
{
  static const struct {
    Way      way;
    unsigned bars;
    TurnTask tasks[6];
  } rows[] = {
    {WAY_STORY,
     2,
     {TASK_LINE, TASK_AGAIN, TASK_LAST, TASK_LINE, TASK_AGAIN, TASK_LAST}},
    {WAY_STORY,
     4,
     {TASK_LINE, TASK_AGAIN, TASK_LAST, TASK_LINE, TASK_AGAIN, TASK_LAST}},
    {WAY_QUESTION,
     2,
     {TASK_ASK, TASK_CLOSE, TASK_ASK, TASK_CLOSE, TASK_ASK, TASK_CLOSE}},
    {WAY_QUESTION,
     6,
     {TASK_ASK, TASK_ASK, TASK_CLOSE, TASK_ASK, TASK_ASK, TASK_CLOSE}},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const TurnPlan plan = {.bar_ticks       = BAR,
                           .bars_per_chorus = rows[i].bars,
                           .bars_per_turn   = 2,
                           .way             = rows[i].way};
    for (unsigned t = 0; t < 6; ++t) {
      cr_assert_eq(turn_at(plan, t + 1).task, rows[i].tasks[t], "%u %u", i, t);
    }
  }
}

Test(pattern, sing_for_a_bar_before_each_turn)
{
  for (unsigned bars = 1; bars <= 4; bars *= 2) {
    const TurnPlan plan = {.bar_ticks       = BAR,
                           .bars_per_chorus = 12,
                           .bars_per_turn   = bars,
                           .way             = WAY_SING_FIRST};
    for (unsigned index = 1; index < 20; ++index) {
      const Turn turn = turn_at(plan, index);
      cr_assert_eq(turn.start - turn.silence, BAR);
      cr_assert_gt(turn.end, turn.start);
    }
  }
}

// How an echo goes on

Test(pattern, echo_asks_for_rhythm_then_landing_then_all)
{
  EchoStand stand = echo_begin();
  cr_assert_eq(stand.n_notes, 2);
  cr_assert_eq(stand.asks, GOAL_RHYTHM);
  stand = echo_go_on(stand, ECHO_RHYTHM);
  cr_assert_eq(stand.asks, GOAL_LANDING);
  cr_assert(stand.is_again);
  stand = echo_go_on(stand, ECHO_LANDING);
  cr_assert_eq(stand.asks, GOAL_WHOLE);
  stand = echo_go_on(stand, ECHO_WHOLE);
  cr_assert_eq(stand.n_notes, 3);
  cr_assert_eq(stand.asks, GOAL_RHYTHM);
  cr_assert_not(stand.is_again);
}

Test(pattern, echo_shortens_after_three_misses)
{
  EchoStand stand = {.n_notes = 4, .asks = GOAL_LANDING};
  stand           = echo_go_on(stand, ECHO_RHYTHM);
  cr_assert(stand.is_again);
  stand = echo_wait(stand); // Silence is no miss
  stand = echo_go_on(stand, ECHO_NOTHING);
  cr_assert_eq(stand.n_notes, 4);
  stand = echo_go_on(stand, ECHO_NOTHING);
  cr_assert_eq(stand.n_notes, 3);
  cr_assert_eq(stand.asks, GOAL_RHYTHM);
  cr_assert_not(stand.is_again);
}

Test(pattern, echo_stays_between_two_notes_and_eight)
{
  EchoStand longest  = {.n_notes = ECHO_MOST, .asks = GOAL_RHYTHM};
  EchoStand shortest = echo_begin();
  longest            = echo_go_on(longest, ECHO_WHOLE);
  for (unsigned i = 0; i < 3; ++i) {
    shortest = echo_go_on(shortest, ECHO_NOTHING);
  }
  cr_assert_eq(longest.n_notes, 8);
  cr_assert_eq(shortest.n_notes, 2);
}
