// A plain client beside the browser: how long the program lets a question wait.

#ifndef TESTS_BENCH_PROBE_H
#define TESTS_BENCH_PROBE_H

#include <pthread.h>
#include <stdatomic.h>

enum { PROBE_MOST = 8192 };

typedef struct {
  unsigned    port;
  const char* key;
  pthread_t   thread;
  atomic_bool asks;
  unsigned    n;
  double      took_ms[PROBE_MOST];
} Probe;

// Ask every few milliseconds what time it is, until probe_end()
void
probe_begin(Probe* probe, unsigned port, const char* key);

void
probe_end(Probe* probe);

#endif // TESTS_BENCH_PROBE_H
