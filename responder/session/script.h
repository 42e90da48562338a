/// @file responder/session/script.h Turns of the partner's that were written
/// beforehand: a lesson, to be played again by the player.

#ifndef RESPONDER_SESSION_SCRIPT_H
#define RESPONDER_SESSION_SCRIPT_H

#include "core/music/note.h"
#include "core/tick.h"
#include "responder/hear/hear.h"
#include "responder/say/answer.h"
#include "responder/session/turn.h"

#include <stdbool.h>

enum { SCRIPT_CAPACITY = 64 };

/// One turn; ticks count from where it begins.
typedef struct {
  unsigned n_notes;
  Note     notes[SCRIPT_CAPACITY];      ///< As they sound, rising by tick
  Tick     grid_ticks[SCRIPT_CAPACITY]; ///< As they are written
  bool     is_ornament[SCRIPT_CAPACITY];
  char     words[ANSWER_WHY_CAPACITY]; ///< What is said of it
  Move     move;                       ///< How it came about
} ScriptTurn;

/// The partner's turns in order; after the last the first comes again.
typedef struct {
  unsigned          n_turns; ///< 1 or more
  const ScriptTurn* turns;   ///< They outlive the session
  bool answers; ///< What the player has just played is answered instead
} Script;

/// Whether what the script has for a turn comes again with the partner's next.
bool
script_comes_again(const Script* script, const Turn* turn);

/// Give, as the partner's answer, what the script has for a turn.
void
script_answer(const Script* script,
              const Ear*    ear,
              const Turn*   turn,
              Answer*       answer);

#endif // RESPONDER_SESSION_SCRIPT_H
