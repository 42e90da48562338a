// How the worth of an answer grows with the candidates thought of, and what a
// slice of thinking takes.

#include "measure.h"

#include "../unit/say/fixture.h"

#include "responder/say/thinking.h"
#include "responder/say/weights.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum {
  ANSWERS  = 60,
  N_POINTS = 5,
};

static const unsigned points[N_POINTS] = {5, 12, 25, 60, THINK_SLICES};

static Fixture  fixture;
static Thinking thinking;
static Answer   answer;
static double   slices_us[ANSWERS * THINK_SLICES];
static unsigned n_slices;

static int
by_size(const void* const a, const void* const b)
{
  const double x = *(const double*)a;
  const double y = *(const double*)b;
  return (x > y) - (x < y);
}

int
main(void)
{
  double   worths[N_POINTS] = {0.0};
  unsigned counted          = 0;
  double   longest_ms       = 0.0;
  for (unsigned seed = 0; seed < ANSWERS; ++seed) {
    const Rung rung = {{8, 7, 6, 4}};
    fixture_open(&fixture, seed % 4, 2 + seed % 3, 4, rung, seed);
    double   at[N_POINTS] = {0.0};
    unsigned point        = 0;
    unsigned n            = 0;
    double   whole_us     = 0.0;
    think_begin(&thinking, &fixture.request, rng_seed(seed, 1));
    for (bool more = true; more;) {
      const double begin    = measure_now_us(CLOCK_THREAD_CPUTIME_ID);
      more                  = think_slice(&thinking);
      slices_us[n_slices++] = measure_now_us(CLOCK_THREAD_CPUTIME_ID) - begin;
      whole_us += slices_us[n_slices - 1];
      ++n;
      while (point < N_POINTS && (n == points[point] || !more)) {
        at[point++] = thinking.any ? thinking.worth : -5.0;
      }
    }
    think_end(&thinking, &answer);
    longest_ms = whole_us / 1e3 > longest_ms ? whole_us / 1e3 : longest_ms;
    if (thinking.of_cell) {
      ++counted;
      for (unsigned i = 0; i < N_POINTS; ++i) {
        worths[i] += at[i];
      }
    }
  }
  qsort(slices_us, n_slices, sizeof(*slices_us), by_size);
  printf("%10s %10s\n", "candidates", "worth");
  for (unsigned i = 0; i < N_POINTS; ++i) {
    printf("%10u %10.2f\n", points[i] * THINK_LINES, worths[i] / counted);
  }
  printf("slice: median %.0f us, p99.9 %.0f us, longest %.0f us; "
         "one answer: %.1f ms at most\n",
         slices_us[n_slices / 2],
         slices_us[n_slices - 1 - n_slices / 1000],
         slices_us[n_slices - 1],
         longest_ms);
  return 0;
}
