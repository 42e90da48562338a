// Kept ideas as text and in other keys.

#include "responder/ideas/notebook.h"

#include "core/rng.h"
#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <string.h>

static Idea
random_idea(Rng* const rng)
{
  Idea idea    = {.by_player = true};
  Tick tick    = rng_below(rng, 3) * 480;
  idea.n_notes = 1 + rng_below(rng, IDEA_NOTE_CAPACITY);
  for (unsigned i = 0; i < idea.n_notes; ++i) {
    idea.ticks[i]   = tick;
    idea.lengths[i] = 1 + rng_below(rng, 480);
    idea.pitches[i] = (uint8_t)(60 + rng_below(rng, 20));
    tick += idea.lengths[i] + rng_below(rng, 500);
  }
  return idea;
}

Test(notebook, text_reads_back)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned n = 0; n < 500; ++n) {
    const Idea idea = random_idea(&rng);
    char       text[NOTEBOOK_TEXT_CAPACITY];
    char       again[NOTEBOOK_TEXT_CAPACITY];
    Idea       read;
    cr_assert(notebook_parse(&read, notebook_text(&idea, text)), "%s", text);
    cr_assert_eq(read.n_notes, idea.n_notes);
    cr_assert_str_eq(notebook_text(&read, again), text);
    cr_assert_eq(memcmp(read.ticks, idea.ticks, sizeof(Tick) * idea.n_notes),
                 0);
    cr_assert_eq(memcmp(read.pitches, idea.pitches, idea.n_notes), 0);
  }
}

typedef struct {
  char text[64];
} WrongRow;

ParameterizedTestParameters(notebook, wrong)
{
  static WrongRow rows[] = {
    {""},
    {" "},
    {"0"},
    {"0:480"},
    {"0:480:"},
    {"0:480:128"},
    {"0:0:60"},
    {"-1:480:60"},
    {"0:480:60 "},
    {" 0:480:60"},
    {"0:480:60  480:480:62"},
    {"0:480:60 479:480:62"}, // Sounds into the next
    {"480:480:60 0:480:62"},
    {"00:480:60"},
    {"0:480:60,480:480:62"},
    {"0:99999999999999999999:60"},
    {"0:480:60x"},
  };
  return cr_make_param_array(WrongRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(WrongRow* row, notebook, wrong)
{
  Idea idea = {.n_notes = 77};
  cr_assert_not(notebook_parse(&idea, row->text), "%s", row->text);
}

// All intervals stay, the tonic goes where it is to go, the way is the shorter
// A pick-up, notes at one place, one that sounds into the next
Test(notebook, what_is_untidy_reads_back_once_it_is_tidied)
{
  char text[NOTEBOOK_TEXT_CAPACITY];
  Idea idea = {.n_notes = 4,
               .ticks   = {-240, 0, 960, 960},
               .lengths = {240, 1200, 0, 480},
               .pitches = {59, 60, 62, 64}};
  cr_assert_not(notebook_parse(&idea, notebook_text(&idea, text)));
  notebook_tidy(&idea);
  cr_assert_str_eq(notebook_text(&idea, text), "0:960:60 960:480:64");

  Rng rng = rng_seed(5, 1);
  for (unsigned n = 0; n < 2000; ++n) {
    Idea any = {.n_notes = 1 + rng_below(&rng, IDEA_NOTE_CAPACITY)};
    Idea read;
    for (unsigned i = 0; i < any.n_notes; ++i) {
      any.ticks[i]   = (Tick)rng_below(&rng, 4000) - 500;
      any.lengths[i] = (Tick)rng_below(&rng, 900);
      any.pitches[i] = (uint8_t)rng_below(&rng, 128);
    }
    notebook_tidy(&any);
    cr_assert(notebook_parse(&read, notebook_text(&any, text)), "%s", text);
    notebook_tidy(&read);
    char again[NOTEBOOK_TEXT_CAPACITY];
    cr_assert_str_eq(notebook_text(&read, again), text);
  }
}

Test(notebook, transposing_keeps_every_interval)
{
  Rng rng = rng_seed(2, 1);
  for (unsigned from = 0; from < 12; ++from) {
    for (unsigned to = 0; to < 12; ++to) {
      const Idea idea  = random_idea(&rng);
      Idea       moved = idea;
      notebook_transpose(&moved, from, to, 0, 127);
      const int by = moved.pitches[0] - idea.pitches[0];
      cr_assert_eq((by - (int)to + (int)from) % 12, 0);
      cr_assert(by >= -6 && by <= 6, "%d", by);
      for (unsigned i = 0; i < idea.n_notes; ++i) {
        cr_assert_eq(moved.pitches[i] - idea.pitches[i], by);
      }
    }
  }
}

Test(notebook, transposing_goes_into_the_range)
{
  Idea idea = {.n_notes = 2, .pitches = {60, 64}};
  notebook_transpose(&idea, 0, 2, 72, 96);
  cr_assert_eq(idea.pitches[0], 74);
  cr_assert_eq(idea.pitches[1], 78);
  notebook_transpose(&idea, 2, 0, 36, 50);
  cr_assert_eq(idea.pitches[0], 36);
}

// One session in three, each idea in turn: 3000 seeds, so within a tenth
Test(notebook, ideas_come_back_now_and_then)
{
  unsigned counts[4] = {0};
  for (uint64_t seed = 0; seed < 3000; ++seed) {
    cr_assert_eq(notebook_pick(seed, 0), 0);
    const unsigned index = notebook_pick(seed, 3);
    cr_assert_leq(index, 3);
    ++counts[index];
    cr_assert_eq(notebook_pick(seed, 3), index);
  }
  cr_assert(counts[3] > 1850 && counts[3] < 2150, "%u", counts[3]);
  for (unsigned i = 0; i < 3; ++i) {
    cr_assert(counts[i] > 270 && counts[i] < 400, "%u", counts[i]);
  }
}

Test(notebook, a_kept_idea_is_heard_as_the_same_idea)
{
  static Fixture fixture;
  static Phrase  phrase;
  const Rung     rung = {{6, 5, 4, 1}};
  for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
    fixture_open(&fixture, 0, style, 2, rung, style);
    Idea idea     = idea_of(&fixture.call, true);
    Idea again    = {.n_notes = 0};
    idea.ticks[0] = idea.ticks[0] < 0 ? 0 : idea.ticks[0];
    notebook_phrase(&phrase,
                    &idea,
                    &fixture.request.ear,
                    1.6,
                    fixture.request.start,
                    fixture.request.end);
    again = idea_of(&phrase, true);
    cr_assert_eq(again.n_notes, idea.n_notes);
    cr_assert_float_eq(idea_likeness(&again, &idea).pitch, 1.0F, 1e-6);
    cr_assert_eq(memcmp(again.ticks, idea.ticks, sizeof(Tick) * idea.n_notes),
                 0);
  }
}
