/// @file responder/tell/notes_tell.h The notes of a phrase in text, under the
/// beats that they stand on.
///
///     bar   1:  1   1&      2     3   4
///               G4  ~D#4 E4 (A4)  -   .
///
/// How long a note lasts is seen by what holds on under the next beats. A
/// passing note is spelled as it leads: sharp up, flat down.

#ifndef RESPONDER_TELL_NOTES_TELL_H
#define RESPONDER_TELL_NOTES_TELL_H

#include "core/music/chart.h"
#include "core/tick.h"
#include "responder/hear/phrase.h"

#include <stdio.h>

enum { NOTES_PLACE_CAPACITY = 24 };

/// Write how notes are marked by their roles, and how to read the lines.
void
notes_tell_legend(FILE* stream);

/// Write the notes of a phrase from one up to another, bar by bar.
void
notes_tell(FILE*         stream,
           const Chart*  chart,
           const Phrase* phrase,
           unsigned      first,
           unsigned      end);

/// Write where in the bar a tick is: 2& is the half of beat two, 2e and 2a its
/// quarters; return `place`.
const char*
notes_place(Meter meter, Tick grid_tick, char place[NOTES_PLACE_CAPACITY]);

#endif // RESPONDER_TELL_NOTES_TELL_H
