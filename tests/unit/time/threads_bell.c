// A sleep that rings end, and one that nobody ends: it lasts to its moment. A
// ring that came before is heard, too. Where none were, this would not end.
#include "core/time/bell.h"
#include "core/time/realtime.h"

#include <stdio.h>

enum { RINGS = 200, AN_HOUR_S = 3600 };

static Bell        bell;
static Pace        pace;
static atomic_uint n_woken;

static void*
sleep_long(void* const context)
{
  (void)context;
  thread_hurry(10);
  for (unsigned i = 0; i < RINGS; ++i) {
    bell_sleep_until(&bell, &pace, pace_ns(&pace) + AN_HOUR_S * NS_PER_S);
    atomic_fetch_add(&n_woken, 1);
  }
  return NULL;
}

static unsigned
n_early(void)
{
  unsigned n = 0;
  for (unsigned i = 0; i < 200; ++i) {
    const int64_t until = pace_ns(&pace) + NS_PER_MS + i;
    bell_sleep_until(&bell, &pace, until);
    n += pace_ns(&pace) < until;
  }
  return n;
}

int
main(void)
{
  pthread_t sleeper;
  bell_setup(&bell);
  pace                 = pace_begin(1);
  const unsigned early = n_early();
  bell_ring(&bell);
  bell_sleep_until(&bell, &pace, pace_ns(&pace) + AN_HOUR_S * NS_PER_S);
  if (thread_begin(&sleeper, sleep_long, NULL)) {
    return 1;
  }
  while (atomic_load(&n_woken) < RINGS) { // One may go unheard
    bell_ring(&bell);
    monotonic_sleep_ms(1);
  }
  (void)pthread_join(sleeper, NULL);
  (void)printf("%u early\n", early);
  return early != 0;
}
