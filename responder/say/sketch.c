#include "responder/say/sketch.h"

#include <string.h>

Source
source_of_phrase(const Phrase* const phrase)
{
  Source source = {.n_notes = 0};
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    const Tick             at   = note->grid_tick - phrase->start_tick;
    if (note->is_ornament || at < 0 || source.n_notes == SKETCH_CAPACITY) {
      continue;
    }
    const unsigned n  = source.n_notes++;
    source.ticks[n]   = at;
    source.lengths[n] = note->grid_length > 0 ? note->grid_length : 1;
    source.pitches[n] = note->note.pitch;
  }
  return source;
}

Source
source_of_idea(const Idea* const idea)
{
  Source source = {.is_idea = true, .is_kept = idea->is_kept};
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    if (idea->ticks[i] < 0 || source.n_notes == SKETCH_CAPACITY) {
      continue;
    }
    const unsigned n  = source.n_notes++;
    source.ticks[n]   = idea->ticks[i];
    source.lengths[n] = idea->lengths[i] > 0 ? idea->lengths[i] : 1;
    source.pitches[n] = idea->pitches[i];
  }
  return source;
}

int
source_mean_pitch(const Source* const source)
{
  int sum = 0;
  for (unsigned i = 0; i < source->n_notes; ++i) {
    sum += source->pitches[i];
  }
  return source->n_notes > 0 ? sum / (int)source->n_notes : 0;
}

bool
sketch_add(Sketch* const sketch, const SketchNote note)
{
  if (sketch->n_notes == SKETCH_CAPACITY) {
    return false;
  }
  sketch->notes[sketch->n_notes++] = note;
  return true;
}

void
sketch_remove(Sketch* const sketch, const unsigned index)
{
  --sketch->n_notes;
  memmove(&sketch->notes[index],
          &sketch->notes[index + 1],
          (sketch->n_notes - index) * sizeof(SketchNote));
}

bool
sketch_insert(Sketch* const sketch, const SketchNote note)
{
  unsigned at = sketch->n_notes;
  while (at > 0 && sketch->notes[at - 1].tick >= note.tick) {
    --at;
  }
  const bool is_taken =
    at < sketch->n_notes && sketch->notes[at].tick == note.tick;
  if (is_taken || sketch->n_notes == SKETCH_CAPACITY) {
    return false;
  }
  memmove(&sketch->notes[at + 1],
          &sketch->notes[at],
          (sketch->n_notes - at) * sizeof(SketchNote));
  sketch->notes[at] = note;
  ++sketch->n_notes;
  return true;
}

void
sketch_cut_overlaps(Sketch* const sketch)
{
  for (unsigned i = 0; i + 1 < sketch->n_notes; ++i) {
    SketchNote* const note = &sketch->notes[i];
    const Tick        slot = sketch->notes[i + 1].tick - note->tick;
    note->length           = note->length < slot ? note->length : slot;
  }
}
