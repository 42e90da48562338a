/// @file responder/tell/draw.h A phrase as a small piano roll in plain
/// characters, in lines that fit the terminal. Roles are told by shape.

#ifndef RESPONDER_TELL_DRAW_H
#define RESPONDER_TELL_DRAW_H

#include "core/music/chart.h"
#include "responder/hear/phrase.h"

#include <stdio.h>

/// Write what the characters mean, in one line.
void
draw_legend(FILE* stream);

/**
   Draw the notes of a phrase where they are written: a ruler of bars and beats,
   a row for each pitch that is played, the highest first. Bars that do not fit
   into a line come in the next. Nothing is drawn of silence.
*/
void
draw_phrase(FILE* stream, const Chart* chart, const Phrase* phrase);

#endif // RESPONDER_TELL_DRAW_H
