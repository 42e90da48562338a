/// @file core/time/realtime.h Threads that wake on time.

#ifndef CORE_TIME_REALTIME_H
#define CORE_TIME_REALTIME_H

#include "core/attributes.h"
#include "core/status.h"

#include <pthread.h>

/// Bytes of stack of every thread: small and said, so that locked memory never
/// keeps one from being made.
enum { THREAD_STACK_BYTES = 256 * 1024 };

/**
   Begin a thread with a small stack, and with all signals left to others.

   @return STATUS_OK, or STATUS_SYSTEM; `thread` is written on success only.
*/
MUST_USE Status
thread_begin(pthread_t* thread, void* (*run)(void*), void* context);

/// Ask for the best priority that there is, for the calling thread, and for
/// timers that do not wait for company.
/// @param level 1..99 among the real-time ones.
void
thread_hurry(int level);

/// Ask to be preferred among ordinary threads, for the calling one alone: what
/// it begins is not.
void
thread_prefer(void);

#endif // CORE_TIME_REALTIME_H
