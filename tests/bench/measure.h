/// @file tests/bench/measure.h Times taken, and put in order.

#ifndef TESTS_BENCH_MEASURE_H
#define TESTS_BENCH_MEASURE_H

#include <stddef.h>
#include <time.h>

/// Return what a clock shows, in microseconds.
double
measure_now_us(clockid_t clock);

/// Sort `n` numbers so that they rise.
void
measure_sort(double* numbers, size_t n);

#endif // TESTS_BENCH_MEASURE_H
