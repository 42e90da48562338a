/// @file tests/bench/beside_smf.h How each reader of MIDI files is measured: in
/// a process of its own, which prints `SECONDS KIB EVENTS`.

#ifndef TESTS_BENCH_BESIDE_SMF_H
#define TESTS_BENCH_BESIDE_SMF_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static inline double
seconds_now(void)
{
  struct timespec now;
  (void)clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

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

#endif // TESTS_BENCH_BESIDE_SMF_H
