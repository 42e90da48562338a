/// @file tests/bench/calls.h What is played to the program: the fours of a
/// folder of takes, and calls of invented learners.

#ifndef TESTS_BENCH_CALLS_H
#define TESTS_BENCH_CALLS_H

#include "said.h"

#include <stdbool.h>

enum { CALLS = 128 };

typedef struct {
  const char* name;
  unsigned    n;
  Take        takes[CALLS];
} Calls;

/// List the fours of a folder; false if its fours.json cannot be read.
bool
calls_fours(Calls* calls, const char* folder);

/// Write calls of learners at four levels, over blues in several keys,
/// two-five-ones and minor blues, into a folder; false if that fails.
bool
calls_invented(Calls* calls, const char* folder);

#endif // TESTS_BENCH_CALLS_H
