#include "measure.h"

#include <stdlib.h>

static int
compare(const void* const a, const void* const b)
{
  const double x = *(const double*)a;
  const double y = *(const double*)b;
  return (x > y) - (x < y);
}

double
measure_now_us(const clockid_t clock)
{
  struct timespec now;
  (void)clock_gettime(clock, &now);
  return (double)now.tv_sec * 1e6 + (double)now.tv_nsec * 1e-3;
}

void
measure_sort(double* const numbers, const size_t n)
{
  qsort(numbers, n, sizeof(*numbers), compare);
}
