#include "responder/record/note_name.h"

#include "core/notation/accidentals.h"

const char*
note_name(const Chart* const  chart,
          const Phrase* const phrase,
          const unsigned      index,
          char                name[PITCH_TEXT_CAPACITY])
{
  const HeardNote* const note    = &phrase->notes[index];
  const WrittenNote      written = {
         .tick       = note->grid_tick,
         .chord_tick = heard_note_chord_tick(note, chart),
         .pitch      = note->note.pitch,
  };
  const unsigned next = index + 1 < phrase->n_notes
                          ? phrase->notes[index + 1].note.pitch
                          : ACCIDENTALS_NOTHING;
  return pitch_text(
    note->note.pitch, accidentals_spell(chart, &written, next).spelling, name);
}
