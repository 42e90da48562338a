/// @file tests/bench/beside_smf.h How each reader of MIDI files is measured: in
/// a process of its own, which prints seconds, those of them that the processor
/// worked, KiB and events.

#ifndef TESTS_BENCH_BESIDE_SMF_H
#define TESTS_BENCH_BESIDE_SMF_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static inline double
seconds_of(const clockid_t clock)
{
  struct timespec now;
  (void)clock_gettime(clock, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/// What is measured lies between two calls to these.
typedef struct {
  double seconds;
  double busy_seconds;
  long   kib;
} Stopwatch;

/// Return a figure of this process, such as "VmRSS:" or "VmHWM:" (its peak), in
/// KiB; 0 where there is no /proc.
static inline long
memory_kib(const char* const name)
{
  FILE* const file = fopen("/proc/self/status", "r");
  char        line[256];
  long        kib = 0;
  while (file && !kib && fgets(line, sizeof(line), file)) {
    if (!strncmp(line, name, strlen(name))) {
      kib = strtol(line + strlen(name), NULL, 10);
    }
  }
  if (file) {
    (void)fclose(file);
  }
  return kib;
}

static inline Stopwatch
stopwatch_start(void)
{
  Stopwatch watch    = {.kib = memory_kib("VmRSS:")};
  watch.busy_seconds = seconds_of(CLOCK_PROCESS_CPUTIME_ID);
  watch.seconds      = seconds_of(CLOCK_MONOTONIC);
  return watch;
}

static inline void
stopwatch_stop(Stopwatch* const watch)
{
  watch->seconds = seconds_of(CLOCK_MONOTONIC) - watch->seconds;
  watch->busy_seconds =
    seconds_of(CLOCK_PROCESS_CPUTIME_ID) - watch->busy_seconds;
  watch->kib = memory_kib("VmHWM:") - watch->kib;
}

static inline void
stopwatch_print(const Stopwatch* const watch, const size_t n_events)
{
  (void)printf("%.9f %.9f %ld %zu\n",
               watch->seconds,
               watch->busy_seconds,
               watch->kib,
               n_events);
}

#endif // TESTS_BENCH_BESIDE_SMF_H
