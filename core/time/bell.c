#include "core/time/bell.h"

#include <time.h>

void
bell_setup(Bell* const bell)
{
  pthread_condattr_t about;
  atomic_init(&bell->is_rung, false);
  (void)pthread_mutex_init(&bell->lock, NULL);
  (void)pthread_condattr_init(&about);
  (void)pthread_condattr_setclock(&about, CLOCK_MONOTONIC);
  (void)pthread_cond_init(&bell->rings, &about);
  (void)pthread_condattr_destroy(&about);
}

void
bell_ring(Bell* const bell)
{
  atomic_store(&bell->is_rung, true);
  (void)pthread_cond_signal(&bell->rings);
}

void
bell_sleep_until(Bell* const bell, const Pace* const pace, const int64_t ns)
{
  const int64_t         moment_ns = pace_moment(pace, ns);
  const struct timespec until     = {.tv_sec  = (time_t)(moment_ns / NS_PER_S),
                                     .tv_nsec = (long)(moment_ns % NS_PER_S)};
  int                   error     = 0;
  (void)pthread_mutex_lock(&bell->lock);
  while (!atomic_exchange(&bell->is_rung, false) && !error) {
    error = pthread_cond_timedwait(&bell->rings, &bell->lock, &until);
  }
  (void)pthread_mutex_unlock(&bell->lock);
}
