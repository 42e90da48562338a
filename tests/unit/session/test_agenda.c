#include "core/rng.h"
#include "responder/session/agenda.h"

#include <criterion/criterion.h>

static PartNote
note_at(const Tick tick, const uint8_t pitch)
{
  return (PartNote){{tick, 1, pitch, 64}, PART_PARTNER};
}

Test(agenda, gives_notes_in_the_order_of_ticks)
{
  static Agenda agenda;
  Rng           rng = rng_seed(7, 1);
  for (unsigned i = 0; i < 500; ++i) {
    agenda_add(&agenda, note_at(rng_below(&rng, 100), 60));
  }

  PartNote note;
  Tick     last = -1;
  unsigned n    = 0;
  while (agenda_take(&agenda, 1000, &note)) {
    cr_assert_geq(note.note.tick, last);
    last = note.note.tick;
    ++n;
  }
  cr_assert_eq(n, 500);
}

Test(agenda, keeps_the_order_of_notes_at_one_tick)
{
  static Agenda agenda;
  for (uint8_t pitch = 0; pitch < 100; ++pitch) {
    agenda_add(&agenda, note_at(pitch % 3, pitch));
  }
  PartNote note;
  uint8_t  last_pitch[3] = {0};
  while (agenda_take(&agenda, 3, &note)) {
    uint8_t* const last = &last_pitch[note.note.tick];
    cr_assert(note.note.pitch >= *last);
    *last = note.note.pitch;
  }
  cr_assert_eq(last_pitch[0], 99);
}

Test(agenda, waits_until_it_is_time)
{
  static Agenda agenda;
  agenda_add(&agenda, note_at(10, 60));
  PartNote note;
  cr_assert_not(agenda_take(&agenda, 10, &note));
  cr_assert(agenda_take(&agenda, 11, &note));
  cr_assert_not(agenda_take(&agenda, 11, &note));
}
