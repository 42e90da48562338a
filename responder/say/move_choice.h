/// @file responder/say/move_choice.h Which moves an answer may try, and which
/// one it tries next.

#ifndef RESPONDER_SAY_MOVE_CHOICE_H
#define RESPONDER_SAY_MOVE_CHOICE_H

#include "core/rng.h"
#include "profiles/ladder/move.h"
#include "responder/say/frame.h"
#include "responder/say/prompt.h"

/// Return the moves that the rung offers for a call, without those that may not
/// come now; at least one.
MoveSet
move_choice_offer(const Frame* frame, const Prompt* call);

/// Return those that work on a cell; never none.
MoveSet
move_choice_of_cell(const Frame* frame, const Prompt* call);

/// Choose one of some moves by its place in the chorus and by how well it
/// answers the call.
Move
move_choice_pick(MoveSet       moves,
                 const Frame*  frame,
                 const Prompt* call,
                 Rng*          rng);

/// Return the set of one move.
MoveSet
move_choice_only(Move move);

/// Return the moves that trace the call's rhythm attack for attack.
MoveSet
move_choice_copying(void);

#endif // RESPONDER_SAY_MOVE_CHOICE_H
