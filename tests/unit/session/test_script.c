// Turns written beforehand that wait for the player, and an idea kept from
// another day.

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/session/session.h"

#include <criterion/criterion.h>
#include <string.h>

enum { BAR = 3840, TURN_CAPACITY = 64, N_NOTES = 3 };

#define CONFIG BARTER_SOURCE_DIR "/config/"

static ChartFile  chart;
static Feel       feel;
static Ladder     ladder;
static Session    session;
static SessionOut out;
static unsigned   n_turns;
static TurnRecord turns[TURN_CAPACITY];

static SessionOptions
usual(void)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(chart_file_load(&chart, CONFIG "charts/blues.cfg", &faults), 0);
  cr_assert_eq(feel_file_load(&feel, CONFIG "feels/swing.cfg", &faults), 0);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults), 0);
  return (SessionOptions){
    .chart          = &chart.chart,
    .feel           = &feel,
    .ladder         = &ladder,
    .tempo_bpm      = 120.0,
    .bars_per_turn  = 2,
    .choruses       = 1,
    .partner_begins = true,
    .rung           = {{5, 4, 5, 2}},
    .seed           = 7,
    .lowest         = 60,
    .highest        = 84,
    .hand_span      = 12,
    .spread_ms      = 20.0,
  };
}

static void
advance(const Tick until)
{
  Tick reached = 0;
  do {
    reached = session_advance(&session, until, &out);
    for (unsigned i = 0; i < out.n_turns && n_turns < TURN_CAPACITY; ++i) {
      turns[n_turns++] = out.turns[i];
    }
  } while (reached < until);
}

/// Play the session through; in the turns of `played`, bit n: turn n + 1, three
/// notes are struck: others each time, for what is said twice is answered
/// twice.
static void
play(const SessionOptions* const options, const unsigned played)
{
  static const uint8_t pitches[N_NOTES] = {67, 64, 60};
  n_turns                               = 0;
  session_begin(&session, options);
  for (unsigned turn = 0; turn < 6; ++turn) {
    for (unsigned i = 0; i < N_NOTES && played >> turn & 1U; ++i) {
      const unsigned nth   = turn / 2;
      const Tick     step  = 480 * (Tick)(2 + nth);
      const Tick     tick  = (Tick)turn * 2 * BAR + (Tick)i * step;
      const uint8_t  pitch = pitches[(i + nth) % N_NOTES];
      advance(tick);
      (void)session_hear(&session, (HeardKey){tick, pitch, 80});
      advance(tick + 400);
      (void)session_hear(&session, (HeardKey){tick + 400, pitch, 0});
    }
  }
  advance(session_last_tick(&session));
}

static ScriptTurn
lesson(void)
{
  ScriptTurn turn = {.n_notes = N_NOTES, .move = MOVE_SEQUENCE};
  for (unsigned i = 0; i < N_NOTES; ++i) {
    turn.grid_ticks[i] = (Tick)i * 960;
    turn.notes[i] = (Note){turn.grid_ticks[i], 700, (uint8_t)(72 + 2 * i), 80};
  }
  memcpy(turn.words, "a lesson", 9);
  return turn;
}

static bool
is_lesson(const TurnRecord* const record)
{
  return strcmp(record->why, "a lesson") == 0 &&
         record->move == MOVE_SEQUENCE && record->phrase.n_notes == N_NOTES &&
         record->phrase.notes[1].note.pitch == 74;
}

Test(script, says_it_again_to_one_who_is_silent)
{
  const ScriptTurn turn    = lesson();
  const Script     script  = {1, &turn, true};
  SessionOptions   options = usual();
  options.script           = &script;
  play(&options, 0);
  cr_assert_eq(n_turns, 6);
  for (unsigned i = 0; i < n_turns; i += 2) {
    cr_assert(is_lesson(&turns[i]));
  }
}

Test(script, answers_one_who_has_tried)
{
  const ScriptTurn turn    = lesson();
  const Script     script  = {1, &turn, true};
  SessionOptions   options = usual();
  options.script           = &script;
  play(&options, 1U << 1);
  cr_assert_eq(n_turns, 6);
  cr_assert(is_lesson(&turns[0]));
  cr_assert(turns[1].turn.by_player && turns[1].phrase.n_notes == N_NOTES);
  cr_assert_not(is_lesson(&turns[2])); // The try is answered
  cr_assert_gt(turns[2].phrase.n_notes, 0);
  cr_assert(is_lesson(&turns[4])); // After a silence it comes again
}

Test(script, without_answering_it_is_a_lesson_to_the_end)
{
  const ScriptTurn turn    = lesson();
  const Script     script  = {1, &turn, false};
  SessionOptions   options = usual();
  options.script           = &script;
  play(&options, 1U << 1 | 1U << 3);
  for (unsigned i = 0; i < n_turns; i += 2) {
    cr_assert(is_lesson(&turns[i]));
  }
}

// The idea of another day is the first of the session's memory: who plays it
// comes back to number 1, and the partner may
Test(kept, is_the_first_idea_of_the_session)
{
  const Idea     idea    = {.n_notes = N_NOTES,
                            .ticks   = {0, 960, 1920},
                            .lengths = {960, 960, 960},
                            .pitches = {67, 64, 60}};
  SessionOptions options = usual();
  options.partner_begins = false;
  play(&options, 1U);
  cr_assert_eq(turns[0].idea, 1);
  cr_assert_eq(turns[0].likeness, 0.0F); // New
  options.kept = &idea;
  play(&options, 1U);
  cr_assert_eq(turns[0].idea, 1);
  cr_assert_gt(turns[0].likeness, 0.9F); // It came back
}

Test(kept, is_returned_to_by_name)
{
  const Idea     idea    = {.n_notes = 4,
                            .ticks   = {0, 480, 1920, 4320},
                            .lengths = {480, 960, 960, 960},
                            .pitches = {72, 76, 79, 77}};
  SessionOptions options = usual();
  unsigned       n_back  = 0;
  options.partner_begins = false;
  options.choruses       = 2;
  options.kept           = &idea;
  for (options.seed = 0; options.seed < 12; ++options.seed) {
    play(&options, 1U << 0 | 1U << 2 | 1U << 4);
    for (unsigned i = 0; i < n_turns; ++i) {
      n_back +=
        strstr(turns[i].why, "Back to an idea of your notebook") != NULL;
      cr_assert_null(strstr(turns[i].why, "Back to an idea from before"));
    }
  }
  cr_assert_gt(n_back, 2, "%u", n_back);
}
