/// @file responder/tell/tell.h A conversation in a musician's words, in lines
/// that fit the terminal.

#ifndef RESPONDER_TELL_TELL_H
#define RESPONDER_TELL_TELL_H

#include "core/music/chart.h"
#include "responder/session/session.h"
#include "responder/session/summary.h"

#include <stdbool.h>
#include <stdio.h>

/// Write the form: one line, then the bars with whose turn is where.
void
tell_chart(FILE* stream, const SessionOptions* options);

/// Write one turn: what was heard, or what was answered and why; drawn, too, if
/// that is wished.
void
tell_turn(FILE*             stream,
          const Chart*      chart,
          const TurnRecord* record,
          bool              draws);

/// Write the phrases of a turn without a conversation around them.
void
tell_phrases(FILE* stream, const Chart* chart, const TurnRecord* record);

/// Write the notes of a phrase, as notes_tell() does.
void
tell_notes(FILE* stream, const Chart* chart, const Phrase* phrase);

/// Write words in lines that begin after some blanks.
void
tell_words(FILE* stream, unsigned indent, const char* words);

/// Write the summary after a session.
void
tell_summary(FILE* stream, const Summary* summary);

#endif // RESPONDER_TELL_TELL_H
