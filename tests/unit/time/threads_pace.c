// Sleeping threads: none wakes before its time, at any pace. A preferred one
// is, where the system lets it, and hands nothing on.
#include "core/time/monotonic.h"
#include "core/time/realtime.h"

#include <stdio.h>
#include <sys/resource.h>

static void*
sleep_often(void* const context)
{
  const Pace* const pace    = context;
  static char       early[] = "early";
  thread_hurry(10);
  int64_t until = pace_ns(pace);
  for (unsigned i = 0; i < 200; ++i) {
    until += NS_PER_MS + i;
    pace_sleep_until(pace, until);
    if (pace_ns(pace) < until) {
      return early;
    }
  }
  return NULL;
}

// On Linux a nice level belongs to a thread (setpriority(2), NOTES)
static void*
see_level(void* const level)
{
  *(int*)level = getpriority(PRIO_PROCESS, 0);
  return NULL;
}

static void*
be_preferred(void* const levels)
{
  pthread_t child;
  thread_prefer();
  (void)see_level(levels);
  if (!thread_begin(&child, see_level, (int*)levels + 1)) {
    (void)pthread_join(child, NULL);
  }
  return NULL;
}

static int
n_unfair(void)
{
  const int before    = getpriority(PRIO_PROCESS, 0);
  int       levels[2] = {before, before};
  pthread_t thread;
  if (thread_begin(&thread, be_preferred, levels)) {
    return 1;
  }
  (void)pthread_join(thread, NULL);
  (void)printf("levels %d, %d, %d\n", before, levels[0], levels[1]);
  return (levels[0] > before) + (levels[1] != 0 && levels[0] != before) +
         (getpriority(PRIO_PROCESS, 0) != before);
}

int
main(void)
{
  const int speeds[] = {1, 20};
  int       n_early  = 0;
  for (unsigned i = 0; i < 2; ++i) {
    Pace      pace = pace_begin(speeds[i]);
    pthread_t threads[2];
    for (unsigned t = 0; t < 2; ++t) {
      if (thread_begin(&threads[t], sleep_often, &pace)) {
        (void)puts("no thread could be made");
        return 1;
      }
    }
    for (unsigned t = 0; t < 2; ++t) {
      void* early = NULL;
      (void)pthread_join(threads[t], &early);
      n_early += early != NULL;
    }
  }
  (void)printf("%d threads woke early\n", n_early);
  return n_early != 0 || n_unfair() != 0;
}
