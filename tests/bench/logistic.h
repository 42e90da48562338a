/// @file tests/bench/logistic.h Can two kinds of things be told apart by their
/// features? Logistic regression, each group told by the others.

#ifndef TESTS_BENCH_LOGISTIC_H
#define TESTS_BENCH_LOGISTIC_H

#include <stdbool.h>

enum { LOGISTIC_FEATURES = 24 };

typedef struct {
  double   features[LOGISTIC_FEATURES];
  bool     is_ours;
  unsigned group; ///< Told by a model that has not seen its group
  double   score; ///< Written by logistic_cross()
} Example;

/// Score every example by a model of the other groups. Features are
/// standardised; a ridge of one example's weight keeps the model finite.
void
logistic_cross(Example* examples, unsigned n, unsigned n_features);

/// Return the area under the curve of the scores: .5 is chance, 1 is told.
double
logistic_area(const Example* examples, unsigned n);

#endif // TESTS_BENCH_LOGISTIC_H
