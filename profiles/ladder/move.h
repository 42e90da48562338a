/// @file profiles/ladder/move.h The named ways to develop a phrase.

#ifndef PROFILES_LADDER_MOVE_H
#define PROFILES_LADDER_MOVE_H

#include <stdint.h>

typedef enum {
  MOVE_REPEAT,
  MOVE_NEW_NOTES,  ///< Same rhythm, new notes
  MOVE_NEW_RHYTHM, ///< Same notes, new rhythm
  MOVE_SEQUENCE,
  MOVE_QUESTION_AND_ANSWER,
  MOVE_FRAGMENT,
  MOVE_THIN_OUT,
  MOVE_FILL_IN,
  MOVE_TURN_OVER, ///< Inversion
  MOVE_SHIFT,
  MOVE_RETURN,
  MOVE_ORNAMENT, ///< With crushed notes: grace notes, acciaccature
} Move;

enum { N_MOVES = MOVE_ORNAMENT + 1 };

/// A set of moves; bit n: the Move of that value.
typedef uint16_t MoveSet;

/// Return the name in the trade's words: `same rhythm, new notes`.
const char*
move_name(Move move);

#endif // PROFILES_LADDER_MOVE_H
