/// @file responder/tell/draw.h A phrase as a small piano roll in plain
/// characters, in lines of DRAW_WIDTH at most. Roles are told by shape.

#ifndef RESPONDER_TELL_DRAW_H
#define RESPONDER_TELL_DRAW_H

#include "core/music/chart.h"
#include "responder/hear/phrase.h"

#include <stdio.h>

enum { DRAW_WIDTH = 80 };

/// Write what the characters mean, in one line.
void
draw_legend(FILE* stream);

/**
   Draw the notes of a phrase where they are written: a ruler of bars and beats,
   a row for each semitone from the highest note to the lowest. Bars that do not
   fit into a line come in the next. Nothing is drawn of silence.
*/
void
draw_phrase(FILE* stream, const Chart* chart, const Phrase* phrase);

#endif // RESPONDER_TELL_DRAW_H
