/// @file core/watch.h Who looks on at long work: is told how far it is, and may
/// stop it.

#ifndef CORE_WATCH_H
#define CORE_WATCH_H

#include <stdbool.h>
#include <stddef.h>

/// A zeroed one looks away: the work goes on to its end.
typedef struct {
  /// Take in which share of the work is done, 0..1; false stops it.
  bool (*look)(void* context, double done);
  void* context;
} Watch;

/// Whether the work is to go on; `watch` may be NULL.
static inline bool
watch_goes_on(const Watch* const watch, const double done)
{
  return !watch || !watch->look || watch->look(watch->context, done);
}

#endif // CORE_WATCH_H
