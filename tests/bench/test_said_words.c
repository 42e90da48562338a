#include "said_words.h"

#include <criterion/criterion.h>

#include <stdio.h>

// What each move is: the trade's own words, common practice, no source; the
// phrases are made for the test.

static const Said call = {
  .turn    = 3840,
  .n_notes = 4,
  .notes   = {{0, 400, 0, 60, false},
              {480, 400, 480, 64, false},
              {960, 900, 960, 67, false},
              {1920, 900, 1920, 64, false}},
};

/// Whether a sentence is true of the call and an answer to it.
static bool
is_true(const Said* const answer, const char* const why)
{
  static Pair pair;
  pair = (Pair){.call = call, .answer = *answer};
  (void)snprintf(pair.answer.why, sizeof(pair.answer.why), "%s", why);
  const unsigned words = words_find(&pair.answer);
  cr_assert(words < N_WORDS, "%s", why);
  return words_are_true(words, &pair);
}

Test(said_words, of_the_call_moved)
{
  Said answer = call;
  for (unsigned i = 0; i < answer.n_notes; ++i) {
    answer.notes[i].pitch += 3;
  }
  cr_expect(is_true(&answer, "Your phrase again, landing on G."));
  cr_expect(is_true(&answer, "Your rhythm again, with new notes."));
  cr_expect(is_true(&answer, "The shape of your phrase, a third higher."));
  cr_expect_not(is_true(&answer, "The shape of your phrase, a third lower."));
  cr_expect_not(is_true(&answer, "Your notes in their order, in a new rhythm"));
  cr_expect_not(is_true(&answer, "Your phrase turned over: where you rose"));
  cr_expect_not(is_true(&answer, "Your phrase again, with a crushed note"));
  answer.n_notes = 3; // The last one is left out
  cr_expect(is_true(&answer, "Your phrase again, landing on G."));
  answer.n_notes = 1;
  cr_expect_not(is_true(&answer, "Your phrase again, landing on G."));
  answer.n_notes        = 4;
  answer.notes[1].pitch = 60; // Falls where it rose
  cr_expect_not(is_true(&answer, "Your phrase again, landing on G."));
  answer.notes[1].grid = 720;
  cr_expect_not(is_true(&answer, "Your rhythm again, with new notes."));
}

Test(said_words, of_the_call_turned_over)
{
  Said answer = call;
  for (unsigned i = 0; i < answer.n_notes; ++i) {
    answer.notes[i].pitch = 127 - answer.notes[i].pitch;
  }
  cr_expect(is_true(&answer, "Your phrase turned over: where you rose"));
}

Test(said_words, of_fewer_and_more_notes)
{
  Said answer     = call;
  answer.notes[1] = call.notes[2];
  answer.n_notes  = 2;
  cr_expect(is_true(&answer, "Your phrase thinned out"));
  cr_expect_not(is_true(&answer, "Your phrase with steps filled in between"));
  answer               = call;
  answer.notes[4]      = answer.notes[3];
  answer.notes[3].grid = 1440;
  answer.n_notes       = 5;
  cr_expect(is_true(&answer, "Your phrase with steps filled in between"));
  cr_expect_not(is_true(&answer, "Your phrase thinned out"));
  cr_expect(is_true(&answer, "Your opening as a question, with a new ending"));
}

Test(said_words, of_a_cell)
{
  Said answer = call; // Its opening a fourth higher, from beat 2, then its own
  answer.n_notes = 3;
  for (unsigned i = 0; i < answer.n_notes; ++i) {
    answer.notes[i].grid += 960;
    answer.notes[i].pitch += 5;
  }
  cr_expect(is_true(&answer, "I took your opening to another step."));
  cr_expect(
    is_true(&answer, "I took your opening to another place in the bar"));
  cr_expect_not(is_true(&answer, "I took your opening and turned it over."));
  cr_expect_not(is_true(&answer, "I took your opening and said it twice."));
  cr_expect_not(is_true(&answer, "I took your ending to another step."));
  cr_expect(is_true(
    &answer, "I asked with your opening and answered with an end of my own."));
  answer.notes[1].pitch = 60; // Down and up
  cr_expect_not(is_true(&answer, "I took your opening to another step."));
  cr_expect(is_true(&answer, "I took your opening and turned it over."));
  cr_expect(is_true(&answer, "The rhythm of your opening, with new notes."));
  answer.notes[2].grid = 2880;
  cr_expect_not(is_true(&answer, "The rhythm of your opening, with new notes"));
}

Test(said_words, of_a_cell_said_twice)
{
  Said answer    = call;
  answer.n_notes = 6;
  for (unsigned i = 0; i < 3; ++i) {
    answer.notes[i + 3] = call.notes[i];
    answer.notes[i + 3].grid += 1920;
  }
  cr_expect(is_true(&answer, "I took your opening and said it twice."));
}
