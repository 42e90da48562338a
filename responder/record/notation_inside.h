/// @file responder/record/notation_inside.h What a score in the making holds.

#ifndef RESPONDER_RECORD_NOTATION_INSIDE_H
#define RESPONDER_RECORD_NOTATION_INSIDE_H

#include "core/musicxml/musicxml_module.h"
#include "responder/record/notation.h"

enum { NOTATION_PLAYER, NOTATION_PARTNER, N_NOTATION_VOICES };

enum { NOTATION_LABEL_CAPACITY = 64 };

typedef struct {
  WrittenNote note;
  uint8_t     voice; ///< NOTATION_PLAYER or NOTATION_PARTNER
} NotationNote;

typedef struct {
  Tick start;
  Tick end;
  bool by_player;
  char label[NOTATION_LABEL_CAPACITY];
} NotationSpan;

struct Notation {
  NotationHead  head;
  NotationNote* notes;
  size_t        n_notes;
  size_t        capacity;
  NotationSpan* spans;
  size_t        n_spans;
  size_t        span_capacity;
  bool          has_failed; ///< No memory
};

/// Add a note to a voice.
void
notation_add_note(Notation* notation, WrittenNote note, unsigned voice);

#endif // RESPONDER_RECORD_NOTATION_INSIDE_H
