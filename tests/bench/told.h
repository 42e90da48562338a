/// @file tests/bench/told.h Are the answers told from what players played next?

#ifndef TESTS_BENCH_TOLD_H
#define TESTS_BENCH_TOLD_H

#include "logistic.h"
#include "said.h"

/// How many features there are, and how many of these, the first ones, are of
/// what is written and not of how it is timed.
enum { TOLD_FEATURES = 21, TOLD_WRITTEN = 17 };

/// Take the features of four bars over their chords.
void
told_features(double* features, const Said* said, double tempo_bpm);

/// Let the program hear what the players of the fours of a folder did next and
/// answer the same calls itself, and print how well the two are told apart.
/// Nothing must hold; false if something fails.
bool
told_print(Asked asked, const char* takes, const char* folder);

#endif // TESTS_BENCH_TOLD_H
