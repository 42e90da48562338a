#include "core/music/path.h"
#include "core/rng.h"
#include "core/status.h"
#include "oracle.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>

enum {
  N_LINES_MAX = 7776, // 6 pitches, 5 notes
  N_DRAWS     = 200000,
};

/// A small problem: only some pitches have weight, so all lines can be counted.
typedef struct {
  char     name[40];
  unsigned n_notes;
  unsigned n_used;    ///< Pitches of weight, 1..6
  unsigned n_pitches; ///< Spread evenly over so many
  unsigned zero;      ///< Hundredths of the weights that are 0
} SmallRow;

static SmallRow small_rows[] = {
  {"one note", 1, 6, 6, 10},
  {"two notes, narrow", 2, 6, 6, 10},
  {"two notes, over an octave", 2, 6, 26, 10},
  {"two notes, four octaves", 2, 6, 49, 10},
  {"three notes, octaves", 3, 5, 49, 0},
  {"three notes, semitones", 3, 4, 4, 0},
  {"three notes, a wide range", 3, 6, 40, 5},
  {"four notes, whole tones", 4, 4, 7, 5},
  {"four notes, fourths", 4, 3, 13, 5},
  {"five notes, one pitch", 5, 1, 1, 0},
  {"five notes, two pitches", 5, 2, 2, 0},
  {"five notes, a sixth", 5, 5, 10, 20},
  {"five notes, the most lines", 5, 6, 11, 5},
};

/// All lines of a small problem and what each weighs.
typedef struct {
  PathProblem problem;
  unsigned    used[6];
  unsigned    n_used;
  unsigned    n_lines;
  double      weights[N_LINES_MAX];
  double      total;
} Small;

/// Write the line of a number: its digits in base `n_used` are the pitches.
static void
small_line(const Small* const small, unsigned number, unsigned* const line)
{
  for (unsigned place = 0; place < small->problem.n_notes; ++place) {
    line[place] = small->used[number % small->n_used];
    number /= small->n_used;
  }
}

/// Return the number of a line of keys, `n_lines` if it uses another pitch.
static unsigned
small_number(const Small* const small, const uint8_t* const keys)
{
  unsigned number = 0;
  for (unsigned place = small->problem.n_notes; place-- > 0;) {
    unsigned digit = 0;
    while (digit < small->n_used &&
           small->used[digit] + small->problem.lowest != keys[place]) {
      ++digit;
    }
    if (digit == small->n_used) {
      return small->n_lines;
    }
    number = number * small->n_used + digit;
  }
  return number;
}

static void
small_keys(const Small* const small, const unsigned number, uint8_t* const keys)
{
  unsigned line[PATH_NOTE_CAPACITY];
  small_line(small, number, line);
  for (unsigned place = 0; place < small->problem.n_notes; ++place) {
    keys[place] = (uint8_t)(line[place] + small->problem.lowest);
  }
}

/// Weigh every line by enumeration.
static void
small_weigh(Small* const small)
{
  small->n_lines = 1;
  for (unsigned place = 0; place < small->problem.n_notes; ++place) {
    small->n_lines *= small->n_used;
  }
  small->total = 0.0;
  for (unsigned number = 0; number < small->n_lines; ++number) {
    unsigned line[PATH_NOTE_CAPACITY];
    small_line(small, number, line);
    small->weights[number] = oracle_weight(&small->problem, line);
    small->total += small->weights[number];
  }
}

/// Make a small problem of chance weights and weigh its lines.
static void
small_make(Small* const small, const SmallRow* const row, Rng* const rng)
{
  PathProblem* const problem = &small->problem;
  oracle_random(problem, rng, row->n_notes, row->n_pitches, row->zero / 100.0);

  small->n_used                     = row->n_used;
  bool is_used[PATH_PITCH_CAPACITY] = {false};
  for (unsigned i = 0; i < row->n_used; ++i) {
    small->used[i] =
      row->n_used > 1 ? i * (row->n_pitches - 1) / (row->n_used - 1) : 0;
    is_used[small->used[i]] = true;
  }
  for (unsigned place = 0; place < row->n_notes; ++place) {
    for (unsigned pitch = 0; pitch < row->n_pitches; ++pitch) {
      if (!is_used[pitch]) {
        problem->pitches[place][pitch].weight = 0.0F;
      }
    }
  }
  small_weigh(small);
}

ParameterizedTestParameters(path, draws_lines_by_their_weight)
{
  return cr_make_param_array(
    SmallRow, small_rows, sizeof(small_rows) / sizeof(*small_rows));
}

// Total variation of N draws from the truth p: its mean is at most
// sum sqrt(p (1 - p) / N) / 2 (Cauchy-Schwarz), and it exceeds its mean by t
// with a chance of at most exp(-2 N t^2) (McDiarmid 1989, "On the method of
// bounded differences"); t here stands for one chance in 1e9.
ParameterizedTest(SmallRow* row, path, draws_lines_by_their_weight)
{
  static Small      small;
  static PathSolver solver;
  static unsigned   counts[N_LINES_MAX];
  Rng               rng = rng_seed(11, 1);
  do {
    small_make(&small, row, &rng);
  } while (small.total <= 0.0);

  cr_assert_eq(path_solve(&solver, &small.problem), STATUS_OK);
  for (unsigned i = 0; i < N_DRAWS; ++i) {
    uint8_t keys[PATH_NOTE_CAPACITY];
    path_draw(&solver, &small.problem, &rng, keys);
    const unsigned number = small_number(&small, keys);
    cr_assert_lt(number, small.n_lines, "a pitch of no weight");
    ++counts[number];
  }

  double variation = 0.0;
  double bound     = sqrt(log(1e9) / (2.0 * N_DRAWS));
  for (unsigned number = 0; number < small.n_lines; ++number) {
    const double p = small.weights[number] / small.total;
    variation += fabs((double)counts[number] / N_DRAWS - p) / 2.0;
    bound += sqrt(p * (1.0 - p) / N_DRAWS) / 2.0;
    cr_assert(p > 0.0 || counts[number] == 0, "a rule is broken");
  }
  cr_assert_lt(
    variation, bound, "%s: %f, bound %f", row->name, variation, bound);
}

ParameterizedTestParameters(path, messages_stand_for_the_exact_chance)
{
  return cr_make_param_array(
    SmallRow, small_rows, sizeof(small_rows) / sizeof(*small_rows));
}

ParameterizedTest(SmallRow* row, path, messages_stand_for_the_exact_chance)
{
  static Small      small;
  static PathSolver solver;
  Rng               rng        = rng_seed(12, 1);
  unsigned          n_solvable = 0;
  for (unsigned round = 0; round < 20; ++round) {
    small_make(&small, row, &rng);
    const bool is_solvable = small.total > 0.0;
    cr_assert_eq(path_solve(&solver, &small.problem),
                 is_solvable ? STATUS_OK : STATUS_MISSING);
    n_solvable += is_solvable;
    for (unsigned number = 0; is_solvable && number < small.n_lines; ++number) {
      unsigned line[PATH_NOTE_CAPACITY];
      small_line(&small, number, line);
      const double chance = oracle_chance(&solver, &small.problem, line);
      cr_assert_float_eq(chance, small.weights[number] / small.total, 1e-12);
      cr_assert_eq(chance > 0.0, small.weights[number] > 0.0);
    }
  }
  cr_assert_gt(n_solvable, 0U, "%s says nothing", row->name);
}

ParameterizedTestParameters(path, log_weight_is_the_logarithm_of_the_weight)
{
  return cr_make_param_array(
    SmallRow, small_rows, sizeof(small_rows) / sizeof(*small_rows));
}

ParameterizedTest(SmallRow* row,
                  path,
                  log_weight_is_the_logarithm_of_the_weight)
{
  static Small small;
  Rng          rng = rng_seed(13, 1);
  small_make(&small, row, &rng);
  for (unsigned number = 0; number < small.n_lines; ++number) {
    uint8_t keys[PATH_NOTE_CAPACITY];
    small_keys(&small, number, keys);
    const double weight     = small.weights[number];
    const double log_weight = path_log_weight(&small.problem, keys);
    if (weight > 0.0) {
      cr_assert_float_eq(log_weight, log(weight), 1e-9);
    } else {
      cr_assert(isinf(log_weight) && log_weight < 0.0);
    }
  }
}

Test(path, log_weight_refuses_keys_outside_the_range)
{
  static PathProblem problem;
  oracle_plain(&problem, 2, 5); // Keys 48..52
  cr_assert_eq(path_log_weight(&problem, (uint8_t[]){48, 52}), 0.0);
  cr_assert_eq(path_log_weight(&problem, (uint8_t[]){47, 48}), -INFINITY);
  cr_assert_eq(path_log_weight(&problem, (uint8_t[]){48, 47}), -INFINITY);
  cr_assert_eq(path_log_weight(&problem, (uint8_t[]){53, 52}), -INFINITY);
  cr_assert_eq(path_log_weight(&problem, (uint8_t[]){52, 53}), -INFINITY);
}

// Steps of one or two semitones, skips of three or four: a third is a skip,
// anything wider a leap (common practice, no source).
Test(path, came_follows_the_size_of_the_interval)
{
  static const PathCame up[13] = {PATH_CAME_REPEAT,
                                  PATH_CAME_STEP_UP,
                                  PATH_CAME_STEP_UP,
                                  PATH_CAME_SKIP_UP,
                                  PATH_CAME_SKIP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP,
                                  PATH_CAME_LEAP_UP};
  for (int size = 0; size <= PATH_LEAP_MAX; ++size) {
    cr_assert_eq(path_came(size), up[size]);
  }
  for (int size = 1; size <= PATH_LEAP_MAX; ++size) {
    cr_assert_eq(path_came(-size), up[size] + 1, "each down follows its up");
  }
}

// With weights of 0 and 1 only, all the lines there are come equally often: of
// K lines, one is left out by N draws with a chance under K exp(-N / K).
Test(path, draws_every_line_that_there_is)
{
  static const SmallRow row = {"", 4, 4, 6, 30};
  static Small          small;
  static PathSolver     solver;
  Rng                   rng     = rng_seed(14, 1);
  unsigned              n_tried = 0;
  for (unsigned round = 0; round < 30; ++round) {
    small_make(&small, &row, &rng);
    PathProblem* const problem = &small.problem;
    for (unsigned place = 0; place < row.n_notes; ++place) {
      for (unsigned i = 0; i < PATH_PITCH_CAPACITY; ++i) {
        PathPitch* const pitch = &problem->pitches[place][i];
        pitch->weight          = pitch->weight > 0.0F ? 1.0F : 0.0F;
      }
      for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
        float* const weight = &problem->intervals[place][i];
        *weight             = *weight > 0.0F ? 1.0F : 0.0F;
      }
    }
    for (unsigned i = 0; i < PATH_CAMES * PATH_INTERVALS; ++i) {
      float* const weight =
        &problem->habits[i / PATH_INTERVALS][i % PATH_INTERVALS];
      *weight = *weight > 0.0F ? 1.0F : 0.0F;
    }
    for (unsigned i = 0; i < PATH_WAYS * PATH_INTERVALS; ++i) {
      float* const weight =
        &problem->ways[i / PATH_INTERVALS][i % PATH_INTERVALS];
      *weight = *weight > 0.0F ? 1.0F : 0.0F;
    }
    small_weigh(&small);
    if (path_solve(&solver, problem) != STATUS_OK) {
      cr_assert_eq(small.total, 0.0);
      continue;
    }

    bool drawn[N_LINES_MAX] = {false};
    for (unsigned i = 0; i < 40 * (unsigned)small.total; ++i) {
      uint8_t keys[PATH_NOTE_CAPACITY];
      path_draw(&solver, problem, &rng, keys);
      drawn[small_number(&small, keys)] = true;
    }
    for (unsigned number = 0; number < small.n_lines; ++number) {
      cr_assert_eq(drawn[number], small.weights[number] > 0.0);
    }
    ++n_tried;
  }
  cr_assert_gt(n_tried, 5U);
}

Test(path, keeps_every_rule_of_large_problems)
{
  static PathProblem problem;
  static PathSolver  solver;
  Rng                rng        = rng_seed(15, 1);
  unsigned           n_solvable = 0;
  for (unsigned round = 0; round < 40; ++round) {
    const double zero = 0.02 * round;
    oracle_random(
      &problem, &rng, PATH_NOTE_CAPACITY, PATH_PITCH_CAPACITY, zero);
    if (path_solve(&solver, &problem) != STATUS_OK) {
      continue;
    }
    ++n_solvable;
    for (unsigned i = 0; i < 20; ++i) {
      uint8_t  keys[PATH_NOTE_CAPACITY];
      unsigned line[PATH_NOTE_CAPACITY];
      path_draw(&solver, &problem, &rng, keys);
      oracle_indices(&problem, keys, line);
      double log_weight = 0.0;
      for (unsigned place = 0; place < problem.n_notes; ++place) {
        cr_assert_lt(line[place], problem.n_pitches);
        const double factor = oracle_factor(&problem, line, place);
        cr_assert_gt(factor, 0.0);
        log_weight += log(factor);
      }
      cr_assert_float_eq(path_log_weight(&problem, keys), log_weight, 1e-9);
    }
  }
  cr_assert_gt(n_solvable, 20U);
}

Test(path, same_chance_same_line)
{
  static PathProblem problem;
  static PathSolver  solver;
  Rng                rng = rng_seed(16, 1);
  oracle_random(&problem, &rng, 20, 25, 0.1);
  cr_assert_eq(path_solve(&solver, &problem), STATUS_OK);

  Rng     again = rng;
  uint8_t first[PATH_NOTE_CAPACITY];
  uint8_t second[PATH_NOTE_CAPACITY];
  path_draw(&solver, &problem, &rng, first);
  path_draw(&solver, &problem, &again, second);
  cr_assert_arr_eq(first, second, 20);
  path_draw(&solver, &problem, &rng, second);
  cr_assert_arr_neq(first, second, 20);
}
