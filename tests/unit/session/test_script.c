// Turns written beforehand that wait for the player, and an idea kept from
// another day.

#include "support/stand.h"

#include <criterion/criterion.h>
#include <string.h>

enum { BAR = 3840, N_NOTES = 3 };

static Log told;

static SessionOptions
partner_begins(void)
{
  load();
  SessionOptions options = usual();
  options.choruses       = 1;
  options.partner_begins = true;
  options.rung           = (Rung){{5, 4, 5, 2}};
  options.split_pitch    = 0;
  return options;
}

/// Play the session through; in the turns of `played`, bit n: turn n + 1, three
/// notes are struck: others each time, for what is said twice is answered
/// twice.
static void
play(const SessionOptions* const options, const unsigned played)
{
  static const uint8_t pitches[N_NOTES] = {67, 64, 60};
  told.n_turns                          = 0;
  session_begin(&session, options);
  for (unsigned turn = 0; turn < 6; ++turn) {
    for (unsigned i = 0; i < N_NOTES && played >> turn & 1U; ++i) {
      const unsigned nth   = turn / 2;
      const Tick     step  = 480 * (Tick)(2 + nth);
      const Tick     tick  = (Tick)turn * 2 * BAR + (Tick)i * step;
      const uint8_t  pitch = pitches[(i + nth) % N_NOTES];
      advance(&told, tick);
      (void)session_hear(&session, (HeardKey){tick, pitch, 80});
      advance(&told, tick + 400);
      (void)session_hear(&session, (HeardKey){tick + 400, pitch, 0});
    }
  }
  advance(&told, session_last_tick(&session));
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
  SessionOptions   options = partner_begins();
  options.script           = &script;
  play(&options, 0);
  cr_assert_eq(told.n_turns, 6);
  for (unsigned i = 0; i < told.n_turns; i += 2) {
    cr_assert(is_lesson(&told.turns[i]));
  }
}

Test(script, answers_one_who_has_tried)
{
  const ScriptTurn turn    = lesson();
  const Script     script  = {1, &turn, true};
  SessionOptions   options = partner_begins();
  options.script           = &script;
  play(&options, 1U << 1);
  cr_assert_eq(told.n_turns, 6);
  cr_assert(is_lesson(&told.turns[0]));
  cr_assert(told.turns[1].turn.by_player &&
            told.turns[1].phrase.n_notes == N_NOTES);
  cr_assert_not(is_lesson(&told.turns[2])); // The try is answered
  cr_assert_gt(told.turns[2].phrase.n_notes, 0);
  cr_assert(is_lesson(&told.turns[4])); // After a silence it comes again
}

Test(script, without_answering_it_is_a_lesson_to_the_end)
{
  const ScriptTurn turn    = lesson();
  const Script     script  = {1, &turn, false};
  SessionOptions   options = partner_begins();
  options.script           = &script;
  play(&options, 1U << 1 | 1U << 3);
  for (unsigned i = 0; i < told.n_turns; i += 2) {
    cr_assert(is_lesson(&told.turns[i]));
  }
}

static bool
is_of(const SentenceKind kind, const char* const remark)
{
  const Wordings* const wordings = &sentences_plain()->of[kind];
  bool                  is       = false;
  for (unsigned i = 0; i < wordings->n; ++i) {
    is = is || strcmp(wordings->words[i], remark) == 0;
  }
  return is;
}

// Only where it is played again that is promised: not of another round, and not
// of the last
Test(script, promises_only_what_comes_again)
{
  const ScriptTurn first   = lesson();
  ScriptTurn       other   = lesson();
  other.notes[1].pitch     = 75;
  const ScriptTurn turns[] = {first, first, other};
  const Script     script  = {3, turns, false};
  SessionOptions   options = partner_begins();
  options.script           = &script;
  play(&options, 0);
  cr_assert_eq(told.n_turns, 6);
  cr_assert(is_of(SENTENCE_ECHO_SILENT, told.turns[1].remark));
  cr_assert(is_of(SENTENCE_SILENCE_PASSING, told.turns[3].remark));
  cr_assert(is_of(SENTENCE_SILENCE_LAST, told.turns[5].remark));
}

// The idea of another day is the first of the session's memory: who plays it
// comes back to number 1, and the partner may
Test(kept, is_the_first_idea_of_the_session)
{
  const Idea     idea    = {.n_notes = N_NOTES,
                            .ticks   = {0, 960, 1920},
                            .lengths = {960, 960, 960},
                            .pitches = {67, 64, 60}};
  SessionOptions options = partner_begins();
  options.partner_begins = false;
  play(&options, 1U);
  cr_assert_eq(told.turns[0].idea, 1);
  cr_assert_eq(told.turns[0].likeness, 0.0F); // New
  options.kept = &idea;
  play(&options, 1U);
  cr_assert_eq(told.turns[0].idea, 1);
  cr_assert_gt(told.turns[0].likeness, 0.9F); // It came back
}

Test(kept, is_returned_to_by_name)
{
  const Idea     idea    = {.n_notes = 4,
                            .ticks   = {0, 480, 1920, 4320},
                            .lengths = {480, 960, 960, 960},
                            .pitches = {72, 76, 79, 77}};
  SessionOptions options = partner_begins();
  unsigned       n_back  = 0;
  options.partner_begins = false;
  options.choruses       = 2;
  options.kept           = &idea;
  for (options.seed = 0; options.seed < 12; ++options.seed) {
    play(&options, 1U << 0 | 1U << 2 | 1U << 4);
    for (unsigned i = 0; i < told.n_turns; ++i) {
      n_back +=
        strstr(told.turns[i].why, "Back to an idea of your notebook") != NULL;
      cr_assert_null(strstr(told.turns[i].why, "Back to an idea from before"));
    }
  }
  cr_assert_gt(n_back, 2, "%u", n_back);
}
