/// @file responder/stage/stopping.h The signals that ask the program to stop.
///
/// Threads: one of its own waits for them; `is_asked` may be read from any.

#ifndef RESPONDER_STAGE_STOPPING_H
#define RESPONDER_STAGE_STOPPING_H

#include "core/attributes.h"
#include "core/status.h"

#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>

/// Begins zeroed.
typedef struct {
  atomic_bool is_asked; ///< One has come
  atomic_bool ends;
  sigset_t    before;
  pthread_t   thread;
} Stopping;

/// Keep the signals from the thread that calls and from all that it makes. To
/// be called before any library makes a thread: one that left them open would
/// take them, and end the process.
void
stopping_hold(Stopping* stopping);

/// Give the thread that calls its signals back.
void
stopping_release(const Stopping* stopping);

/// Begin to wait for signals; STATUS_OK or STATUS_SYSTEM.
MUST_USE Status
stopping_begin(Stopping* stopping);

/// Wait no longer.
void
stopping_end(Stopping* stopping);

#endif // RESPONDER_STAGE_STOPPING_H
