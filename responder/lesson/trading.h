/// @file responder/lesson/trading.h Trading live, session after session: each
/// is new unless its seed was chosen, and where it is practice the learner
/// climbs.

#ifndef RESPONDER_LESSON_TRADING_H
#define RESPONDER_LESSON_TRADING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "responder/lesson/playing.h"
#include "responder/lesson/who.h"
#include "responder/setup/setup.h"

#include <stdbool.h>

/// What lasts through all sessions of one start; keep it in place.
typedef struct {
  Who            who;
  Choices        choices; ///< Of the next session; playing_obey() changes them
  Setup          setup;   ///< Loaded with them
  bool           is_practice;
  PlayingSession session;
} Trading;

/// Begin the next session; STATUS_OK, or the fault is written.
MUST_USE Status
trading_begin(Trading* trading, Playing* playing, Fault* fault);

/// End a session that does not go on, after its news were taken.
void
trading_end(Trading* trading, Playing* playing, StageResult* result);

#endif // RESPONDER_LESSON_TRADING_H
