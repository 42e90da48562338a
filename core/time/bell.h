/// @file core/time/bell.h A sleep until a moment that another thread can end.
///
/// Threads: one sleeps, any may ring.

#ifndef CORE_TIME_BELL_H
#define CORE_TIME_BELL_H

#include "core/time/monotonic.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>

/// Keep it in place.
typedef struct {
  pthread_mutex_t lock; ///< The sleeper's alone
  pthread_cond_t  rings;
  atomic_bool     is_rung;
} Bell;

/// Make it ready.
void
bell_setup(Bell* bell);

/// Let the sleeper wake, or not fall asleep. It waits for nothing of the
/// sleeper's, and so, in the very moment that one lies down, may go unheard:
/// who must be sure sleeps no longer than can be borne.
void
bell_ring(Bell* bell);

/// Sleep until it rings, but not beyond a moment of a pace.
void
bell_sleep_until(Bell* bell, const Pace* pace, int64_t ns);

#endif // CORE_TIME_BELL_H
