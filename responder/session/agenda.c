#include "responder/session/agenda.h"

#include <assert.h>

void
agenda_add(Agenda* const agenda, const PartNote note)
{
  assert(agenda->n_notes < AGENDA_CAPACITY);
  unsigned i = agenda->n_notes++;
  while (i > 0 && agenda->notes[i - 1].note.tick <= note.note.tick) {
    agenda->notes[i] = agenda->notes[i - 1];
    --i;
  }
  agenda->notes[i] = note;
}

bool
agenda_take(Agenda* const agenda, const Tick before, PartNote* const note)
{
  if (!agenda->n_notes ||
      agenda->notes[agenda->n_notes - 1].note.tick >= before) {
    return false;
  }
  *note = agenda->notes[--agenda->n_notes];
  return true;
}
