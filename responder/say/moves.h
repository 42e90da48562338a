/// @file responder/say/moves.h The twelve ways to develop a phrase, as
/// sketches.

#ifndef RESPONDER_SAY_MOVES_H
#define RESPONDER_SAY_MOVES_H

#include "core/rng.h"
#include "profiles/ladder/move.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdbool.h>

/// What a move has to work with.
typedef struct {
  Frame*        frame;
  const Source* source; ///< The call, or the idea answered in its place
  const Source* first;  ///< The first idea, for `return`; no notes: none
  Rng*          rng;
} Workshop;

/**
   Make the sketch of a move: its rhythm as it comes, and the wishes.

   @param[out] sketch Written whole if the move is possible.
   @return Whether it is.
*/
bool
move_sketch(Sketch* sketch, const Workshop* shop, Move move);

/// Make a first idea from nothing: the root on the first beat, and on from
/// there.
void
move_open(Sketch* sketch, const Workshop* shop);

#endif // RESPONDER_SAY_MOVES_H
