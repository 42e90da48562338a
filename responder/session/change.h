/// @file responder/session/change.h What a player asks to be otherwise from the
/// next turn on, while a session goes on.

#ifndef RESPONDER_SESSION_CHANGE_H
#define RESPONDER_SESSION_CHANGE_H

#include "core/tick.h"
#include "profiles/ladder/ladder.h"

#include <stdbool.h>

/// Zeroed, nothing changes.
typedef struct {
  Tick   from;      ///< Where the turn begins that it is for
  double tempo_bpm; ///< Quarters a minute; 0: it stays
  Rung   rung;      ///< All of it; levels of 0: it stays
} SessionChange;

/// Whether anything changes.
bool
change_is_any(const SessionChange* change);

/// Put what is asked later upon what was asked before.
void
change_add(SessionChange* change, const SessionChange* later);

#endif // RESPONDER_SESSION_CHANGE_H
