/// @file responder/say/treat.h What a move does with a cell of the call.

#ifndef RESPONDER_SAY_TREAT_H
#define RESPONDER_SAY_TREAT_H

#include "core/rng.h"
#include "profiles/ladder/move.h"
#include "responder/say/draft.h"
#include "responder/say/planting.h"
#include "responder/say/prompt.h"
#include "responder/say/sketch.h"

#include <stdbool.h>
#include <stdint.h>

/// Return the moves that can be made of a cell alone.
MoveSet
treat_moves(void);

/// Say how a move plants its cell.
Planting
treat_planting(const Cell* cell, Move move, const Frame* frame, Rng* rng);

/// Wish the intervals of the planted notes.
void
treat_wish(Draft* draft, const Frame* frame, const Cell* cell, Move move);

/// Whether a move takes the cell's rhythm alone: one tone has no shape.
static inline bool
treat_is_rhythm(const Frame* const frame, const Move move)
{
  return move == MOVE_NEW_NOTES ||
         (move == MOVE_FRAGMENT && frame->notes->chord_tones < 2);
}

/**
   Whether a drawn line does with the cell what the move says.

   @param line The pitches of the draft's notes.
*/
bool
treat_holds(const Draft*   draft,
            const Frame*   frame,
            const Cell*    cell,
            Move           move,
            const uint8_t* line);

/**
   Whether a drawn line goes up and down as a whole phrase does: a move that
   says it is that phrase, or its shape, is not true without.

   @param source What the move follows; its notes are found by their places.
   @param line The pitches of the draft's notes.
*/
bool
treat_keeps_shape(const Draft*     draft,
                  const Frame*     frame,
                  const Source*    source,
                  const MoveFacts* facts,
                  const uint8_t*   line);

#endif // RESPONDER_SAY_TREAT_H
