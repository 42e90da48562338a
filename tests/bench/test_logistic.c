#include "logistic.h"

#include <criterion/criterion.h>

enum { N = 120, N_GROUPS = 6 };

/// Examples of two features; the first one differs between the kinds by `apart`
/// of its range, the second is noise.
static void
make(Example* const examples, const double apart)
{
  unsigned state = 1;
  for (unsigned i = 0; i < N; ++i) {
    double noise[2];
    for (unsigned k = 0; k < 2; ++k) {
      state    = state * 1664525U + 1013904223U;
      noise[k] = (double)(state >> 8U) / (1U << 24U);
    }
    examples[i] = (Example){.is_ours = i % 2 == 0, .group = i / 2 % N_GROUPS};
    examples[i].features[0] = noise[0] + (i % 2 == 0 ? apart : 0.0);
    examples[i].features[1] = noise[1];
  }
}

// The area is a count of pairs in the right order: 3 of 4 here, by hand
Test(logistic, area_counts_pairs_in_order)
{
  const Example examples[] = {{.is_ours = true, .score = 3},
                              {.is_ours = true, .score = 1},
                              {.is_ours = false, .score = 2},
                              {.is_ours = false, .score = 0}};
  cr_expect_float_eq(logistic_area(examples, 4), 0.75, 1e-9);
}

Test(logistic, tells_what_differs_and_nothing_else)
{
  static Example examples[N];
  make(examples, 1.5);
  logistic_cross(examples, N, 2);
  cr_expect_gt(logistic_area(examples, N), 0.99);
  make(examples, 0.0);
  logistic_cross(examples, N, 2);
  cr_expect_lt(logistic_area(examples, N), 0.65);
  make(examples, 1.5); // The difference is not shown
  for (unsigned i = 0; i < N; ++i) {
    examples[i].features[0] = examples[i].features[1];
  }
  logistic_cross(examples, N, 1);
  cr_expect_lt(logistic_area(examples, N), 0.65);
}
