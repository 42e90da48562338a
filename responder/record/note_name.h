/// @file responder/record/note_name.h What a note of a phrase is called.

#ifndef RESPONDER_RECORD_NOTE_NAME_H
#define RESPONDER_RECORD_NOTE_NAME_H

#include "core/music/chart.h"
#include "core/music/pitch.h"
#include "responder/hear/phrase.h"

/// Write the name of a note, `F#4`, as its chord and scale have it; a passing
/// note as it leads to the next: sharp up, flat down. Return `name`.
const char*
note_name(const Chart*  chart,
          const Phrase* phrase,
          unsigned      index,
          char          name[PITCH_TEXT_CAPACITY]);

#endif // RESPONDER_RECORD_NOTE_NAME_H
