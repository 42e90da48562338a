/// @file responder/say/moves_made.h Each move by itself, for moves.c.

#ifndef RESPONDER_SAY_MOVES_MADE_H
#define RESPONDER_SAY_MOVES_MADE_H

#include "responder/say/moves.h"
#include "responder/say/sketch.h"

#include <stdbool.h>

/// Copy the notes `first` up to `end` of a source into the turn, as wished.
void
move_copy(Sketch*         sketch,
          const Workshop* shop,
          const Source*   source,
          unsigned        first,
          unsigned        end,
          float           pitch_fall,
          float           interval_fall);

// Each writes the sketch if the move is possible, and says whether it is.

bool
move_repeat(Sketch* sketch, const Workshop* shop);
bool
move_new_notes(Sketch* sketch, const Workshop* shop);
bool
move_sequence(Sketch* sketch, const Workshop* shop);
bool
move_turn_over(Sketch* sketch, const Workshop* shop);
bool
move_return(Sketch* sketch, const Workshop* shop);
bool
move_new_rhythm(Sketch* sketch, const Workshop* shop);
bool
move_thin_out(Sketch* sketch, const Workshop* shop);
bool
move_fill_in(Sketch* sketch, const Workshop* shop);
bool
move_shift(Sketch* sketch, const Workshop* shop);
bool
move_question(Sketch* sketch, const Workshop* shop);
bool
move_fragment(Sketch* sketch, const Workshop* shop);

#endif // RESPONDER_SAY_MOVES_MADE_H
