// Sleeping threads: none wakes before its time, at any pace.
#include "core/time/monotonic.h"
#include "core/time/realtime.h"

#include <stdio.h>

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
  return n_early != 0;
}
