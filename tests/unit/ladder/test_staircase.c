#include "profiles/ladder/staircase.h"

#include "learners.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>

/// The ratio of the steps is the rule of Kaernbach 1991; the table has targets
/// and ratios in four decimals.
Test(staircase, ratio_of_the_steps)
{
  Table    table;
  unsigned n_rows = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/staircase.csv"));
  while (table_next(&table)) {
    const Staircase staircase = {
      1.0, strtod(table_field(&table, "target_success"), NULL), -1e3, 1e3};
    const double ratio =
      strtod(table_field(&table, "failure_step_over_success_step"), NULL);
    const double failing = 1.0 - staircase.target;
    cr_assert_float_eq(-staircase_step(&staircase, 0.0, false),
                       ratio,
                       5e-5 + 5.1e-5 / (failing * failing));
    ++n_rows;
  }
  table_close(&table);
  cr_assert_eq(n_rows, 11);
}

static void
follow_trace(const Table* const table)
{
  const Staircase staircase = {
    .success_step = strtod(table_field(table, "success_step"), NULL),
    .target       = strtod(table_field(table, "target"), NULL),
    .floor        = 0.0,
    .ceiling      = 1.0,
  };
  const char* answers = table_field(table, "answers_1_good_0_bad");
  const char* levels  = table_field(table, "expected_difficulties");
  double      level   = strtod(table_field(table, "start"), NULL);
  for (;; ++answers) {
    char*        end      = NULL;
    const double expected = strtod(levels, &end);
    cr_assert_neq(end, levels, "line %u: too few levels", table->line);
    cr_assert_float_eq(level, expected, 1e-6, "line %u", table->line);
    levels = end;
    if (!*answers) {
      break;
    }
    level = staircase_step(&staircase, level, *answers == '1');
  }
  cr_assert_eq(*levels, '\0', "line %u: too many levels", table->line);
}

Test(staircase, traces)
{
  Table    table;
  unsigned n_rows = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/staircase_trace.csv"));
  while (table_next(&table)) {
    follow_trace(&table);
    ++n_rows;
  }
  table_close(&table);
  cr_assert_eq(n_rows, 6);
}

/// A step that would lead beyond a bound ends on it.
Test(staircase, stops_at_its_bounds)
{
  const Staircase staircase = {0.3, 0.5, 0.0, 1.0};
  cr_assert_float_eq(staircase_step(&staircase, 0.9, true), 1.0, 1e-12);
  cr_assert_float_eq(staircase_step(&staircase, 0.1, false), 0.0, 1e-12);
  cr_assert_float_eq(staircase_step(&staircase, 0.7, true), 1.0, 1e-12);
  cr_assert_float_eq(staircase_step(&staircase, 0.2, true), 0.5, 1e-12);
}

/// What a run on the staircase came to after it had settled.
typedef struct {
  double rate;
  double mean;
  double variance;
  double moved; ///< The level at the end less that at the beginning
} Run;

enum { SETTLING = 1000, COUNTED = 4000, N_SEEDS = 100 };

static Run
run(const Staircase staircase, const SimulatedLearner learner, Rng rng)
{
  double level = 0.0;
  for (unsigned i = 0; i < SETTLING; ++i) {
    level =
      staircase_step(&staircase, level, learner_succeeds(learner, level, &rng));
  }
  const double begun       = level;
  double       sum         = 0.0;
  double       squares     = 0.0;
  unsigned     n_successes = 0;
  for (unsigned i = 0; i < COUNTED; ++i) {
    const bool success = learner_succeeds(learner, level, &rng);
    sum += level;
    squares += level * level;
    n_successes += success;
    level = staircase_step(&staircase, level, success);
  }
  const double mean = sum / COUNTED;
  return (Run){(double)n_successes / COUNTED,
               mean,
               squares / COUNTED - mean * mean,
               level - begun};
}

typedef struct {
  double target;
  double step;
  double slope;
} SettleRow;

/// The targets of Levitt's rules 2-down (70.7 %), 3-down (79.4 %) and 4-down
/// (84.1 %), and ours.
ParameterizedTestParameters(staircase, settles)
{
  static SettleRow rows[] = {
    {0.7071, 0.05, 1.0},
    {0.7937, 0.05, 1.0},
    {0.80, 0.05, 1.0},
    {0.80, 0.025, 0.7},
    {0.80, 0.1, 2.0},
    {0.8409, 0.05, 1.0},
    {0.85, 0.05, 1.0},
  };
  return cr_make_param_array(SettleRow, rows, sizeof(rows) / sizeof(*rows));
}

/// What theory gives. (1) Every success and failure is in the level, so that
/// the rate over n turns is p + (1 - p) moved / (n step), exactly. (2) About
/// its rest the level is a first-order process with pull a = step k p a turn
/// and noise step^2 p / (1 - p), so its variance is step / (2 k (1 - p)) and
/// the standard error of its mean sqrt(2 variance / (a n)). (3) The curve's
/// bend shifts the mean by k |1 - 2p| variance / 2 at most to second order.
ParameterizedTest(SettleRow* row, staircase, settles)
{
  const double           p         = row->target;
  const double           k         = row->slope;
  const Staircase        staircase = {row->step, p, -50.0, 50.0};
  const SimulatedLearner learner   = {8.0, k};
  const double           variance  = row->step / (2.0 * k * (1.0 - p));
  const double error     = sqrt(2.0 * variance / (row->step * k * p * COUNTED));
  const double bend      = k * fabs(1.0 - 2.0 * p) * variance / 2.0;
  double       variances = 0.0;
  for (unsigned seed = 0; seed < N_SEEDS; ++seed) {
    const Run    came = run(staircase, learner, rng_seed(seed, 1));
    const double rate = p + (1.0 - p) * came.moved / (COUNTED * row->step);
    cr_assert_float_eq(came.rate, rate, 1e-6, "seed %u", seed);
    cr_assert_float_eq(came.rate, p, 0.01, "seed %u: %f", seed, came.rate);
    cr_assert_float_eq(came.mean,
                       learner_level(learner, p),
                       4.0 * error + 2.0 * bend,
                       "seed %u: at %f, not %f",
                       seed,
                       came.mean,
                       learner_level(learner, p));
    variances += came.variance;
  }
  cr_assert_float_eq(variances / N_SEEDS / variance,
                     1.0,
                     0.25,
                     "variance %f, not %f",
                     variances / N_SEEDS,
                     variance);
}

/// n successes in a row as often as not: the rates of Levitt's rules.
Test(staircase, rates_of_transformed_rules)
{
  Table    table;
  unsigned n = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/levitt.csv"));
  while (table_next(&table)) {
    ++n;
    const double rate = strtod(table_field(&table, "target_success"), NULL);
    cr_assert_float_eq(pow(rate, n), 0.5, 5e-4);
    const Staircase staircase = {0.1, rate, -50.0, 50.0};
    const Run       came =
      run(staircase, (SimulatedLearner){8.0, 1.0}, rng_seed(n, 2));
    cr_assert_float_eq(pow(came.rate, n), 0.5, 0.01 * n);
  }
  table_close(&table);
  cr_assert_eq(n, 5);
}
