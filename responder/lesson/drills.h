/// @file responder/lesson/drills.h An exercise of a warm-up as live sessions:
/// the partner plays each round, and the player plays it again.

#ifndef RESPONDER_LESSON_DRILLS_H
#define RESPONDER_LESSON_DRILLS_H

#include "core/rng.h"
#include "profiles/plan/warmup.h"
#include "responder/session/script.h"
#include "responder/session/session.h"
#include "responder/setup/setup.h"

#include <stdbool.h>

/// An exercise under way; keep it in place.
typedef struct {
  const Setup*      setup;
  const WarmupItem* item;
  Rng               rng;
  unsigned          done; ///< Rounds that were laid out
  Chart             chart;
  ScriptTurn        turns[WARMUP_MOST_ROUNDS];
  Script            script;
  SessionOptions    session; ///< Of the rounds that were laid out last
} Drills;

/// Begin an exercise, which is none of trading; setup and item outlive it.
void
drills_begin(Drills* drills, const Setup* setup, const WarmupItem* item);

/// Lay out as many of the next rounds as a session holds; false if there are
/// none left.
bool
drills_next(Drills* drills);

/// Set up an item of trading, as the rest of the warm-up is.
void
drills_trading(Setup* trading, const Setup* setup, const WarmupItem* item);

/**
   Return a session in which the partner begins and plays what is written.

   @param chart One turn of each after the other, `bars` long; it and the script
   outlive the session.
*/
SessionOptions
drills_session(const Setup*  setup,
               const Chart*  chart,
               unsigned      bars,
               const Script* script);

/// Return the scale of a form where a chord of it first stands.
Scale
drills_scale(const Chart* form, const Chord* chord);

#endif // RESPONDER_LESSON_DRILLS_H
