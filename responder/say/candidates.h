/// @file responder/say/candidates.h The candidates that thinking goes through:
/// each is drawn, judged and, if it is the best so far, kept.

#ifndef RESPONDER_SAY_CANDIDATES_H
#define RESPONDER_SAY_CANDIDATES_H

#include "responder/say/thinking.h"

#include <stdbool.h>

/// Try a rhythm of a plan about a cell of the call, and lines through it.
void
candidates_of_cell(Thinking* thinking);

/// Try lines that follow a whole phrase; false if the move is not possible.
bool
candidates_of_whole(Thinking* thinking);

/// Try to say the answer before again, fitted to the chords now, with one to
/// three notes changed.
void
candidates_again(Thinking* thinking);

/// Keep the root, on a beat or some, when nothing else will do.
void
candidates_plain(Thinking* thinking);

#endif // RESPONDER_SAY_CANDIDATES_H
