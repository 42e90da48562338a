// Part of a conversation by itself, as it stands on a page: what comes before
// its first bar is a pick-up, and its first chord is named. Common practice, no
// source.

#include "responder/record/notation.h"

#include "fixture.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

enum { BEAT = TICKS_PER_QUARTER, EIGHTH = BEAT / 2, BAR = 4 * BEAT };

static Setup setup;

// The music of one line, from a turn's first bar on
static void
expect(const WrittenNote* const notes,
       const unsigned           n_notes,
       const Tick               start,
       const char* const        music)
{
  static const AbcLayout layout = {.bars_per_line = 1, .width_cm = 9.0};
  const Choices          blues  = fixture_choices();
  fixture_load(&setup, &blues);
  const SessionOptions session = setup_session(&setup);
  const NotationHead   head    = {
         .ear = session_ear(&session), .swing_ratio = 1.0, .is_excerpt = true};
  Notation* const notation = notation_open(&head);
  AbcPlaces       places   = {.n = 0};
  char*           text     = NULL;
  size_t          size     = 0;
  cr_assert_not_null(notation);
  notation_add_written(notation, notes, n_notes, start, start + 2 * BAR, "");
  cr_assert_eq(notation_abc_placed(notation, &layout, &places, &text, &size),
               STATUS_OK);
  cr_expect_not_null(strstr(text, music), "wanted: %s\nfound: %s", music, text);
  free(text);
  free(places.places);
  notation_close(notation);
}

static WrittenNote
note_at(const Tick tick)
{
  return (WrittenNote){.tick       = tick,
                       .heard      = tick,
                       .sounding   = EIGHTH,
                       .chord_tick = tick,
                       .pitch      = 64};
}

Test(part_of_score, it_names_the_chord_it_begins_with)
{
  const WrittenNote notes[] = {note_at(BAR)}; // C7 goes on from bar 1
  expect(notes, 1, BAR, "\nV:1\n\"C7\"E2 z2 z4 z8 | \nV:1\nz16 |");
  expect(notes, 1, 0, "\nV:1\n\"C7\"z16 | \nV:1\nE2 z2 z4 z8 |");
}

Test(part_of_score, what_comes_before_its_first_bar_is_a_pick_up)
{
  const WrittenNote notes[] = {note_at(2 * BAR - EIGHTH), note_at(2 * BAR)};
  expect(notes, 2, 2 * BAR, "\nV:1\nz2 E2 | \"C7\"E2 z2 z4 z8 | \nV:1\nz16 |");
}

// No longer than a bar: else it is one
Test(part_of_score, a_bar_before_it_is_a_bar)
{
  const WrittenNote notes[] = {note_at(BAR), note_at(2 * BAR)};
  expect(notes, 2, 2 * BAR, "\nV:1\n\"C7\"E2 z2 z4 z8 | \nV:1\nE2 z2 z4 z8 |");
}

// What the left hand plays alone takes no empty staff above it
Test(part_of_score, one_hand_takes_one_staff)
{
  WrittenNote notes[] = {note_at(0), note_at(BAR)};
  notes[0].staff      = 1;
  notes[0].pitch      = 48;
  expect(notes, 1, 0, "\n%%score 1\nK:C\nV:1 clef=bass\nV:1\n\"C7\"C,2 ");
  expect(notes, 2, 0, "\n%%score {1 2}\n");
}
