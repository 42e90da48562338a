/// @file responder/session/waiting.h Keys that wait for their moment: a session
/// may listen some ticks behind its own time, so that a key whose message came
/// late is still heard where it was struck.

#ifndef RESPONDER_SESSION_WAITING_H
#define RESPONDER_SESSION_WAITING_H

#include "core/tick.h"
#include "responder/session/hearing.h"

enum { WAITING_CAPACITY = 256 };

/// Zeroed, none waits.
typedef struct {
  Tick     last;        ///< Of the keys so far; the next one is no earlier
  Tick     struck[128]; ///< By pitch: when it went down last
  unsigned n_keys;
  HeardKey keys[WAITING_CAPACITY]; ///< Rising by tick; at one, up comes first
} Waiting;

/**
   Let a key wait.

   One whose tick lies before that of another that came earlier counts as
   together with it, and one that comes up at the tick where it went down as a
   tick later: so whoever plays the same keys again at the ticks that come back
   has them in the same order. One too many is left out.

   @return The tick that it counts as.
*/
Tick
waiting_add(Waiting* waiting, HeardKey key);

/// Return the first tick that a key waits with; `none` if there is none.
Tick
waiting_next(const Waiting* waiting, Tick none);

/// Take the first key; there is one.
HeardKey
waiting_take(Waiting* waiting);

#endif // RESPONDER_SESSION_WAITING_H
