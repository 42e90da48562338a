/// @file responder/session/pattern.h Whose turn it is, and what it is for, in
/// each way of playing together.

#ifndef RESPONDER_SESSION_PATTERN_H
#define RESPONDER_SESSION_PATTERN_H

#include "profiles/ladder/way.h"

#include <stdbool.h>

/// What a turn is for.
typedef enum {
  TASK_FREE,  ///< To be answered, or an answer
  TASK_ASK,   ///< Ends open
  TASK_CLOSE, ///< ... and comes home
  TASK_CELL,  ///< A cell is played before
  TASK_GIVE_BACK,
  TASK_FEW,   ///< A few notes, the rhythm is free
  TASK_LINE,  ///< A, the first line of a story
  TASK_AGAIN, ///< A, said again
  TASK_LAST,  ///< B
  TASK_SHOW,  ///< A chorus to be taken over
  TASK_ALONG, ///< The player plays, and the partner the chorus before again
  TASK_ALONE, ///< The player plays it
  TASK_SING,  ///< Sung in silence, then played
} TurnTask;

enum { N_TASKS = 13, PATTERN_FEW_MOST = 3 };

/// Where a turn stands.
typedef struct {
  unsigned chorus; ///< Of the session, from 0
  unsigned place;  ///< Of the chorus, from 0
  unsigned places; ///< That the chorus has
  unsigned number; ///< Of the session, from 0
} PatternPlace;

typedef struct {
  bool     by_player;
  TurnTask task;
} PatternTurn;

/// Return whose a turn is, and what for.
/// @param player_begins Where the way leaves open who begins.
PatternTurn
pattern_turn(Way way, PatternPlace place, bool player_begins);

/// Return what a task is called: `question`, `cell`; the usual one `answer`.
const char*
task_name(TurnTask task);

/// Return how many notes are allowed where few are: 1, 2, 3 from chorus 0 on.
unsigned
pattern_few(unsigned chorus);

/// Return how many bars at the beginning of each turn belong to silence.
unsigned
pattern_silent_bars(Way way);

#endif // RESPONDER_SESSION_PATTERN_H
