/// How long the program takes from nothing to its help.

#include "measure.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

enum { N_ROUNDS = 101 };

static void
run_once(const char* const program, const char* const argument)
{
  const pid_t child = fork();
  if (child == 0) {
    if (!freopen("/dev/null", "w", stdout)) {
      _exit(127);
    }
    execl(program, program, argument, (char*)NULL);
    _exit(127);
  }
  int status = 0;
  if (child < 0 || waitpid(child, &status, 0) != child || status != 0) {
    fprintf(stderr, "bench_start: %s did not run\n", program);
    exit(EXIT_FAILURE);
  }
}

static double
median_ms(const char* const program, const char* const argument)
{
  double times[N_ROUNDS];
  for (unsigned i = 0; i < N_ROUNDS; ++i) {
    const double begin = measure_now_us(CLOCK_MONOTONIC);
    run_once(program, argument);
    times[i] = (measure_now_us(CLOCK_MONOTONIC) - begin) * 1e-3;
  }
  measure_sort(times, N_ROUNDS);
  return times[N_ROUNDS / 2];
}

int
main(void)
{
  printf(
    "BENCH {\"row\":\"cold start to --help\",\"value\":%.2f,\"unit\":\"ms\","
    "\"must\":\"under 15\",\"beside\":\"/bin/true: %.2f ms\"}\n",
    median_ms(BENCH_BARTER, "--help"),
    median_ms("/bin/true", "--help"));
  return EXIT_SUCCESS;
}
