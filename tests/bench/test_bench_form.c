#include "form.h"

#include <criterion/criterion.h>

// Phrases made for the test, counted by hand.

static Said
said(void)
{
  Said made           = {.turn     = 2 * SAID_BAR,
                         .n_notes  = 4,
                         .notes    = {{0, 400, 0, 60, false},
                                      {480, 400, 480, 64, false},
                                      {960, 900, 960, 67, false},
                                      {1920, 900, 1920, 64, false}},
                         .n_chords = 2};
  made.chords[0]      = said_chord("C7");
  made.chords[1]      = said_chord("G7");
  made.chords[1].tick = SAID_BAR;
  return made;
}

Test(form, changed_notes_are_those_with_no_like)
{
  const Said first = said();
  Said       again = first;
  cr_expect_eq(form_changed(&first, &again), 0);
  again.notes[2].pitch = 66;
  cr_expect_eq(form_changed(&first, &again), 1);
  again.notes[4] = (SaidNote){2880, 400, 2880, 60, false};
  again.n_notes  = 5;
  cr_expect_eq(form_changed(&first, &again), 2);
  again.n_notes = 0;
  cr_expect_eq(form_changed(&first, &again), 4);
}

// "5, b7 or 3 of the V": common practice, no source
Test(form, open_ends)
{
  static const struct {
    int  pitch;
    bool is_open;
  } rows[] = {{67, false}, {71, true}, {74, true}, {65, true}, {64, false}};
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    Said end     = said();
    end.notes[3] = (SaidNote){4800, 900, 4800, rows[i].pitch, false};
    cr_expect_eq(form_is_open(&end), rows[i].is_open, "%d", rows[i].pitch);
  }
  Said on     = said();
  on.notes[3] = (SaidNote){6720, 960, 6720, 67, false};
  cr_expect(form_is_open(&on)); // Runs on to the line
}
