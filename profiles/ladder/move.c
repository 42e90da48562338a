#include "profiles/ladder/move.h"

#include <assert.h>

static const char* const move_names[N_MOVES] = {
  [MOVE_REPEAT]              = "repeat",
  [MOVE_NEW_NOTES]           = "same rhythm, new notes",
  [MOVE_NEW_RHYTHM]          = "same notes, new rhythm",
  [MOVE_SEQUENCE]            = "sequence",
  [MOVE_QUESTION_AND_ANSWER] = "question and answer",
  [MOVE_FRAGMENT]            = "fragment",
  [MOVE_THIN_OUT]            = "thin out",
  [MOVE_FILL_IN]             = "fill in",
  [MOVE_TURN_OVER]           = "turn over",
  [MOVE_SHIFT]               = "shift",
  [MOVE_RETURN]              = "return",
  [MOVE_ORNAMENT]            = "ornament",
};

const char*
move_name(const Move move)
{
  assert((unsigned)move < N_MOVES);
  return move_names[move];
}
