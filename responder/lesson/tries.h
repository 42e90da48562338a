/// @file responder/lesson/tries.h Developments to be tried live, one by one.
///
/// Each is a session over the bars of the phrase: it is played, the player
/// tries it and is answered, and has the last turn. To one who is silent it is
/// played again. Each one that was tried is recorded.

#ifndef RESPONDER_LESSON_TRIES_H
#define RESPONDER_LESSON_TRIES_H

#include "core/attributes.h"
#include "core/status.h"
#include "responder/lesson/desk.h"
#include "responder/lesson/playing.h"
#include "responder/session/script.h"
#include "responder/session/session.h"

#include <stdbool.h>

/// What lasts through all of them; keep it in place.
typedef struct {
  const Desk*    desk;
  Chart          chart; ///< The phrase's bars, once for each turn
  ScriptTurn     turn;
  Script         script;
  SessionOptions session; ///< Of the one that is played
  PlayingSession kept;    ///< ... and its recording
  unsigned       n_forms; ///< How often it was played
  unsigned       n_tries; ///< The player's turns with notes in these
} Tries;

/// Make ready for the developments on a desk, which outlives it; STATUS_OK, or
/// STATUS_FULL if the phrase has too many chords to be played over.
MUST_USE Status
tries_open(Tries* tries, const Desk* desk);

/// Begin with a development.
void
tries_begin(Tries* tries, unsigned index);

/// Whether it is to be played, or played again: until it was tried, or was
/// played in vain often enough.
bool
tries_next(Tries* tries);

/// Take in a turn.
void
tries_hear(Tries* tries, const TurnRecord* record);

/// Begin to play it; what was recorded before, in vain, is forgotten.
/// @return STATUS_OK; else the fault is written.
MUST_USE Status
tries_play(Tries* tries, Playing* playing, Fault* fault);

/// End what was played; a recording in which nobody tried is no recording.
void
tries_end(Tries* tries, Playing* playing, StageResult* result);

/// Whether nobody tried it: one may leave it at that.
bool
tries_are_vain(const Tries* tries);

#endif // RESPONDER_LESSON_TRIES_H
