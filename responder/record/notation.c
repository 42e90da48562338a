#include "responder/record/notation.h"

#include "responder/record/notation_inside.h"

#include <stdio.h>
#include <stdlib.h>

Notation*
notation_open(const NotationHead* const head)
{
  Notation* const notation = calloc(1, sizeof(*notation));
  if (notation) {
    notation->head = *head;
  }
  return notation;
}

void
notation_close(Notation* const notation)
{
  if (notation) {
    free(notation->notes);
    free(notation->spans);
    free(notation);
  }
}

// Room for one more; NULL keeps what there was
static void*
grown(Notation* const notation,
      void* const     items,
      const size_t    n,
      size_t* const   capacity,
      const size_t    size)
{
  if (n < *capacity) {
    return items;
  }
  const size_t more    = *capacity ? 2 * *capacity : 64;
  void* const  larger  = realloc(items, more * size);
  notation->has_failed = notation->has_failed || !larger;
  *capacity            = larger ? more : *capacity;
  return larger;
}

void
notation_add_note(Notation* const   notation,
                  const WrittenNote note,
                  const unsigned    voice)
{
  NotationNote* const notes = grown(notation,
                                    notation->notes,
                                    notation->n_notes,
                                    &notation->capacity,
                                    sizeof(*notes));
  if (notes) {
    notation->notes                      = notes;
    notation->notes[notation->n_notes++] = (NotationNote){note, (uint8_t)voice};
  }
}

static void
add_span(Notation* const notation, const NotationSpan span)
{
  NotationSpan* const spans = grown(notation,
                                    notation->spans,
                                    notation->n_spans,
                                    &notation->span_capacity,
                                    sizeof(*spans));
  if (spans) {
    notation->spans                      = spans;
    notation->spans[notation->n_spans++] = span;
  }
}

void
notation_add_phrase(Notation* const     notation,
                    const Phrase* const phrase,
                    const bool          by_player,
                    const Tick          start,
                    const char* const   label)
{
  const Tick   moved = start - phrase->start_tick;
  NotationSpan span  = {
     .start     = start,
     .end       = phrase->end_tick + moved,
     .by_player = by_player,
  };
  (void)snprintf(span.label, NOTATION_LABEL_CAPACITY, "%s", label);
  add_span(notation, span);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    HeardNote heard = phrase->notes[i];
    heard.grid_tick += moved;
    const WrittenNote note = {
      .tick       = heard.grid_tick,
      .heard      = heard.note.tick + moved,
      .sounding   = heard.note.length,
      .chord_tick = heard_note_chord_tick(&heard, notation->head.ear.chart),
      .pitch      = heard.note.pitch,
      .is_grace   = heard.is_ornament,
    };
    notation_add_note(
      notation, note, by_player ? NOTATION_PLAYER : NOTATION_PARTNER);
  }
}

void
notation_add_written(Notation* const          notation,
                     const WrittenNote* const notes,
                     const unsigned           n_notes,
                     const Tick               start,
                     const Tick               end,
                     const char* const        label)
{
  NotationSpan span = {.start = start, .end = end, .by_player = true};
  (void)snprintf(span.label, NOTATION_LABEL_CAPACITY, "%s", label);
  add_span(notation, span);
  for (unsigned i = 0; i < n_notes; ++i) {
    notation_add_note(notation, notes[i], NOTATION_PLAYER);
  }
}

void
notation_add_turn(Notation* const notation, const TurnRecord* const record)
{
  const Turn* const turn = &record->turn;
  char              label[NOTATION_LABEL_CAPACITY];
  const char* const name = session_turn_name(record);
  (void)snprintf(
    label, sizeof(label), "turn %u%s%s", turn->index, *name ? ": " : "", name);
  notation_add_phrase(
    notation, &record->phrase, turn->by_player, turn->start, label);
}
