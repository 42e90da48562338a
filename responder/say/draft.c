#include "responder/say/draft.h"

#include "responder/hear/hear.h"

#include <stddef.h>

DraftNote*
draft_add(Draft* const draft, const Tick tick, const unsigned phrase)
{
  if (draft->n_notes == DRAFT_CAPACITY) {
    return NULL;
  }
  DraftNote* const note = &draft->notes[draft->n_notes++];
  *note                 = (DraftNote){.tick          = tick,
                                      .phrase        = (uint8_t)phrase,
                                      .plant         = NO_PLANT,
                                      .pitch_fall    = NO_WISH,
                                      .interval_fall = NO_WISH};
  return note;
}

void
draft_close(Draft* const draft, Frame* const frame)
{
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    DraftNote* const note    = &draft->notes[i];
    const bool       is_last = i + 1 == draft->n_notes;
    const Tick       next    = is_last ? INT64_MAX : draft->notes[i + 1].tick;
    note->begins = i == 0 || draft->notes[i - 1].phrase != note->phrase;
    note->ends   = is_last || draft->notes[i + 1].phrase != note->phrase;
    note->gap    = is_last ? 2 * frame->beat : next - note->tick;
    note->place  = frame_place(frame, note->tick);
    // What ends a phrase just before a change is held into it
    const Tick length =
      note->ends && note->gap > frame->beat ? frame->beat : note->gap;
    const Tick at    = hear_chord_tick(frame->chart, note->tick, length, next);
    note->chord      = *frame_roles(frame, at);
    const Tick until = chart_next_change(frame->chart, at);
    note->is_ahead =
      i == 0 || until - note->tick <= frame->off ||
      (at >= note->chord.from && note->tick - note->chord.from < 1);
  }
}

void
draft_of_sketch(Draft* const        draft,
                Frame* const        frame,
                const Sketch* const sketch)
{
  draft->n_notes  = 0;
  draft->is_whole = true;
  unsigned phrase = 0;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const SketchNote* const from = &sketch->notes[i];
    if (i > 0 && from->tick - from[-1].tick - from[-1].length > frame->off) {
      ++phrase;
    }
    DraftNote* const note = draft_add(draft, from->tick, phrase);
    note->pitch           = from->pitch;
    note->pitch_fall      = from->pitch_fall;
    note->interval        = (int16_t)(i > 0 ? from->pitch - from[-1].pitch : 0);
    note->interval_fall   = i > 0 ? from->interval_fall : NO_WISH;
  }
  draft_close(draft, frame);
  if (draft->n_notes > 0) {
    draft->notes[draft->n_notes - 1].ends_on_root = sketch->facts.ends_on_root;
  }
}

unsigned
draft_plant_begin(const Draft* const draft, const unsigned plant)
{
  unsigned i = 0;
  while (i < draft->n_notes && draft->notes[i].plant != plant) {
    ++i;
  }
  return i;
}

bool
draft_has_onset(const Draft* const draft, const Tick tick)
{
  bool has = false;
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    has = has || draft->notes[i].tick == tick;
  }
  return has;
}

unsigned
draft_times_planted(const Draft* const draft)
{
  unsigned n = 0;
  while (draft_plant_begin(draft, n) < draft->n_notes) {
    ++n;
  }
  return n;
}

bool
draft_is_avoided(const DraftNote* const note, const unsigned pc)
{
  enum { FOURTH = 5 };
  const unsigned below = (pc + N_PITCH_CLASSES - 1) % N_PITCH_CLASSES;
  return note->chord.is_dominant ? draft_degree(note, (int)pc) == FOURTH
                                 : note->chord.roles[below] <= ROLE_CHORD_TONE;
}
