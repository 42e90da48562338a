#include "responder/ideas/excerpt.h"

#include <criterion/criterion.h>

enum { BAR = 4 * TICKS_PER_QUARTER };

// Notes on quarters; a breath comes before some of them
static Phrase
phrase_of(const unsigned n_notes, const unsigned breath, const unsigned second)
{
  Phrase phrase = {.start_tick = 0, .end_tick = 8 * (Tick)BAR};
  for (unsigned i = 0; i < n_notes; ++i) {
    phrase.notes[i].grid_tick     = (Tick)i * TICKS_PER_QUARTER;
    phrase.notes[i].begins_phrase = i == 0 || i == breath || i == second;
  }
  phrase.n_notes = n_notes;
  return phrase;
}

// A bar and a half are six quarters
Test(excerpt, ends_with_the_first_breath_after_a_bar_and_a_half)
{
  static const struct {
    unsigned n_notes;
    unsigned breath;
    unsigned second;
    unsigned end;
  } rows[] = {
    {12, 8, 10, 8}, // The first breath
    {12, 5, 9, 9},  // One too soon
    {12, 6, 9, 6},  // Just late enough
    {12, 5, 5, 12}, // None after it: all
    {1, 0, 0, 1},   // One note
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const Phrase phrase =
      phrase_of(rows[i].n_notes, rows[i].breath, rows[i].second);
    cr_assert_eq(excerpt_end(&phrase, BAR), rows[i].end, "row %u", i);
  }
}

Test(excerpt, has_the_bars_that_it_touches_and_two_at_the_least)
{
  cr_assert_eq(excerpt_bars(0, 0, BAR), 2);
  cr_assert_eq(excerpt_bars(0, 2 * BAR - 1, BAR), 2);
  cr_assert_eq(excerpt_bars(0, 2 * BAR, BAR), 3);
  cr_assert_eq(excerpt_bars(4 * BAR, 7 * BAR + 480, BAR), 4);
}
