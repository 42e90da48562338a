// Variety, and the lack of it: chance makes answers differ, the same seed makes
// them the same, a chorus has a form.

#include "fixture.h"

#include <criterion/criterion.h>

#include <string.h>

enum {
  SEEDS           = 100,
  DIFFERENT_LEAST = 60,
  TURNS           = 4,
};

static Fixture fixture;
static Answer  again;

static const Rung middle = {{4, 4, 4, 2}};

/// A number for all that is written, ornaments too (FNV-1a, Fowler, Noll & Vo).
static uint32_t
written(const Answer* const answer)
{
  uint32_t hash = 2166136261U;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    hash = (hash ^ (uint32_t)answer->grid_ticks[i]) * 16777619U;
    hash = (hash ^ answer->notes[i].pitch) * 16777619U;
    hash = (hash ^ answer->is_ornament[i]) * 16777619U;
  }
  return hash;
}

static void
answer_with(const uint64_t seed)
{
  Rng rng = rng_seed(seed, 4);
  say_answer(&fixture.answer, &fixture.work, &fixture.request, &rng);
}

Test(say_chance, one_call_has_many_answers)
{
  for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
    uint32_t seen[SEEDS];
    unsigned n = 0;
    fixture_open(&fixture, style % 4, style, 2, middle, 7);
    for (unsigned seed = 0; seed < SEEDS; ++seed) {
      answer_with(seed);
      unsigned i = 0;
      while (i < n && seen[i] != written(&fixture.answer)) {
        ++i;
      }
      seen[i] = written(&fixture.answer);
      n += i == n ? 1 : 0;
    }
    cr_assert_geq(n, DIFFERENT_LEAST, "style %u: %u different", style, n);
  }
}

Test(say_chance, the_same_seed_gives_the_same_bytes)
{
  for (unsigned seed = 0; seed < 40; ++seed) {
    fixture_open(&fixture, seed % 4, seed % N_FIXTURE_CALLS, 2, middle, seed);
    answer_with(seed);
    again = fixture.answer;
    // Whatever was worked on before must not matter
    memset(&fixture.work, 0xA5, sizeof(fixture.work));
    answer_with(seed);
    const Answer* const a = &fixture.answer;
    cr_assert_eq(a->n_notes, again.n_notes);
    for (unsigned i = 0; i < a->n_notes; ++i) {
      cr_assert_eq(a->notes[i].tick, again.notes[i].tick);
      cr_assert_eq(a->notes[i].length, again.notes[i].length);
      cr_assert_eq(a->notes[i].pitch, again.notes[i].pitch);
      cr_assert_eq(a->notes[i].velocity, again.notes[i].velocity);
      cr_assert_eq(a->grid_ticks[i], again.grid_ticks[i]);
      cr_assert_eq(a->is_ornament[i], again.is_ornament[i]);
    }
    cr_assert_str_eq(a->why, again.why);
    cr_assert_eq(a->move, again.move);
  }
}

/// One call, answered again and again: at the lowest rung too, where there is
/// one note and the beat.
Test(say_chance, nothing_is_said_twice_in_a_chorus_but_by_return)
{
  for (unsigned level = 1; level <= 6; ++level) {
    for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
      const Rung rung = {{(uint8_t)level, (uint8_t)level, (uint8_t)level, 1}};
      fixture_open(&fixture, style % 4, style, 2, rung, 3);
      for (unsigned turn = 0; turn < 6; ++turn) {
        fixture.request.turn_in_chorus  = turn;
        fixture.request.turns_in_chorus = 6;
        answer_with(turn * 31 + style);
        for (unsigned i = 0; i < fixture.history.n_digests; ++i) {
          cr_assert(fixture.answer.move == MOVE_RETURN ||
                      fixture.history.digests[i] != fixture.answer.digest,
                    "level %u style %u turn %u: %s",
                    level,
                    style,
                    turn,
                    fixture.answer.why);
        }
        say_remember(&fixture.history, &fixture.answer, turn == 0);
      }
    }
  }
}

Test(say_chance, no_move_three_times_running)
{
  for (unsigned level = 2; level <= 6; ++level) {
    const Rung rung = {{(uint8_t)level, (uint8_t)level, (uint8_t)level, 2}};
    fixture_open(&fixture, 0, 1, 2, rung, 5);
    unsigned last[2] = {N_MOVES, N_MOVES};
    for (unsigned turn = 0; turn < 60; ++turn) {
      fixture.request.turn_in_chorus = turn % TURNS;
      answer_with(turn);
      const Move move = fixture.answer.move;
      cr_assert(move != last[0] || move != last[1], "%s", move_name(move));
      last[1] = last[0];
      last[0] = move;
      say_remember(&fixture.history, &fixture.answer, turn % TURNS == 0);
    }
  }
}

/// Repeat, repeat, depart, return: how often the moves that keep the idea come
/// in each quarter.
Test(say_chance, a_chorus_departs_and_comes_back)
{
  const Rung    rung           = {{6, 5, 6, 2}};
  unsigned      leaving[TURNS] = {0};
  unsigned      coming[TURNS]  = {0};
  static Phrase other;
  for (unsigned seed = 0; seed < 120; ++seed) {
    fixture_open(&fixture, 0, 2, 2, rung, 5);
    Rng call = rng_seed(seed, 8);
    fixture_call(&fixture, 3, 2, &call); // Another than the first idea
    other                         = fixture.call;
    fixture.history.n_answers     = 2;
    fixture.history.last_moves[0] = MOVE_REPEAT;
    fixture.history.last_moves[1] = MOVE_NEW_NOTES;
    fixture.request.call          = &other;
    fixture.ideas.last[0]         = 0; // It was left since
    fixture.ideas.last[1]         = 0;
    for (unsigned turn = 0; turn < TURNS; ++turn) {
      fixture.request.turn_in_chorus = turn;
      answer_with(seed * TURNS + turn);
      const Move move = fixture.answer.move;
      leaving[turn] += move == MOVE_TURN_OVER || move == MOVE_FRAGMENT ||
                       move == MOVE_NEW_RHYTHM || move == MOVE_SHIFT;
      coming[turn] += move == MOVE_RETURN;
    }
  }
  cr_assert_gt(leaving[2], leaving[0]);
  cr_assert_gt(leaving[2], leaving[1]);
  cr_assert_gt(leaving[2], leaving[3]);
  cr_assert_gt(coming[3], coming[0] + coming[1] + coming[2]);
}

Test(say_chance, history_keeps_the_latest_and_forgets_with_the_chorus)
{
  SayHistory history = {0};
  for (unsigned i = 0; i < SAY_HISTORY_CAPACITY + 3; ++i) {
    again.digest = i;
    again.move   = (Move)(i % N_MOVES);
    say_remember(&history, &again, false);
  }
  cr_assert_eq(history.n_digests, SAY_HISTORY_CAPACITY);
  cr_assert_eq(history.digests[SAY_HISTORY_CAPACITY - 1],
               SAY_HISTORY_CAPACITY + 2);
  cr_assert_eq(history.digests[0], 3);
  cr_assert_eq(history.n_answers, SAY_HISTORY_CAPACITY + 3);
  cr_assert_eq(history.last_moves[0], (SAY_HISTORY_CAPACITY + 2) % N_MOVES);
  say_remember(&history, &again, true);
  cr_assert_eq(history.n_digests, 1);
}
