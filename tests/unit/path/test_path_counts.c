/// Long lines, against what is known of them without adding them up.

#include "core/music/path.h"
#include "core/rng.h"
#include "core/status.h"
#include "oracle.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <float.h>
#include <math.h>
#include <stdint.h>

/// Return the number of lines of a problem whose weights are 0 and 1: each of
/// them has a chance of one in that number.
static double
count_lines(const PathProblem* const problem, Rng* const rng)
{
  static PathSolver solver;
  uint8_t           keys[PATH_NOTE_CAPACITY];
  unsigned          line[PATH_NOTE_CAPACITY];
  cr_assert_eq(path_solve(&solver, problem), STATUS_OK);
  path_draw(&solver, problem, rng, keys);
  oracle_indices(problem, keys, line);
  return 1.0 / oracle_chance(&solver, problem, line);
}

/// Leave only some intervals, none wider than a semitone.
static void
keep_semitones(PathProblem* const problem, const bool is_repeat_kept)
{
  for (unsigned place = 0; place < PATH_NOTE_CAPACITY; ++place) {
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      const bool is_kept           = i == PATH_LEAP_MAX
                                       ? is_repeat_kept
                                       : i == PATH_LEAP_MAX - 1 || i == PATH_LEAP_MAX + 1;
      problem->intervals[place][i] = is_kept ? 1.0F : 0.0F;
    }
  }
}

/// Leave only the lowest pitch at a place.
static void
keep_lowest(PathProblem* const problem, const unsigned place)
{
  for (unsigned pitch = 1; pitch < PATH_PITCH_CAPACITY; ++pitch) {
    problem->pitches[place][pitch].weight = 0.0F;
  }
}

typedef struct {
  char     name[40];
  unsigned n_steps;
  int      is_back;        ///< The line ends where it began
  int      is_repeat_kept; ///< A repeat is a step as well
  double   count;
} WalkRow;

ParameterizedTestParameters(path_counts, walks_above_the_ground)
{
  // On-Line Encyclopedia of Integer Sequences: A001405 (central binomial
  // coefficients: walks that never go below their start), A000108 (Catalan:
  // those that come back), A001006 (Motzkin: those with repeats).
  static WalkRow rows[] = {
    {"central binomial, 1", 1, 0, 0, 1.0},
    {"central binomial, 7", 7, 0, 0, 35.0},
    {"central binomial, 20", 20, 0, 0, 184756.0},
    {"central binomial, 48", 48, 0, 0, 32247603683100.0},
    {"Catalan, 4", 8, 1, 0, 14.0},
    {"Catalan, 10", 20, 1, 0, 16796.0},
    {"Catalan, 25", 50, 1, 0, 4861946401452.0},
    {"Motzkin, 6", 6, 1, 1, 51.0},
    {"Motzkin, 10", 10, 1, 1, 2188.0},
    {"Motzkin, 20", 20, 1, 1, 50852019.0},
  };
  return cr_make_param_array(WalkRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(WalkRow* row, path_counts, walks_above_the_ground)
{
  static PathProblem problem;
  Rng                rng = rng_seed(21, 1);
  oracle_plain(&problem, row->n_steps + 1, PATH_PITCH_CAPACITY);
  keep_semitones(&problem, row->is_repeat_kept);
  keep_lowest(&problem, 0);
  if (row->is_back) {
    keep_lowest(&problem, row->n_steps);
  }
  const double count = count_lines(&problem, &rng);
  cr_assert_float_eq(
    count, row->count, 1e-10 * row->count, "%s: %f", row->name, count);
}

// Walks on a row of m points, by the eigenvalues 2 cos(pi k / (m + 1)) of the
// path graph (Brouwer and Haemers 2012, "Spectra of Graphs", 1.4.4) and the
// transfer matrix (Stanley, "Enumerative Combinatorics" 1, 4.7).
Test(path_counts, walks_of_semitones_on_a_row)
{
  static PathProblem problem;
  Rng                rng = rng_seed(22, 1);
  const double       pi  = acos(-1.0);
  for (unsigned m = 2; m <= PATH_PITCH_CAPACITY; ++m) {
    const unsigned n_steps = PATH_NOTE_CAPACITY - 1;
    double         count   = 0.0;
    for (unsigned k = 1; k <= m; ++k) {
      double sum = 0.0;
      for (unsigned j = 1; j <= m; ++j) {
        sum += sqrt(2.0 / (m + 1)) * sin(pi * j * k / (m + 1));
      }
      count += pow(2.0 * cos(pi * k / (m + 1)), n_steps) * sum * sum;
    }

    oracle_plain(&problem, PATH_NOTE_CAPACITY, m);
    keep_semitones(&problem, false);
    cr_assert_float_eq(count_lines(&problem, &rng), count, 1e-9 * count);
  }
}

// Two pitches, and no repeat after a repeat: words of two letters without one
// of them twice running, counted by the Fibonacci numbers (OEIS A000045; n
// letters give F(n + 2)).
Test(path_counts, habits_without_two_repeats_running)
{
  static PathProblem problem;
  Rng                rng    = rng_seed(23, 1);
  double             before = 1.0; // F(2)
  double             count  = 2.0; // F(3), one step
  for (unsigned n_steps = 1; n_steps <= 70; ++n_steps) {
    oracle_plain(&problem, n_steps + 1, 2);
    keep_lowest(&problem, 0);
    problem.habits[PATH_CAME_REPEAT][PATH_LEAP_MAX] = 0.0F;
    cr_assert_float_eq(count_lines(&problem, &rng), count, 1e-10 * count);

    const double next = before + count;
    before            = count;
    count             = next;
  }
}

typedef struct {
  char   name[40];
  double pitch;
  double interval;
  double habit;
} ScaleRow;

ParameterizedTestParameters(path_counts, any_finite_weights_will_do)
{
  static ScaleRow rows[] = {
    {"plain", 1.0, 1.0, 1.0},
    {"all large", FLT_MAX, FLT_MAX, FLT_MAX},
    {"all small", 4.0 * FLT_MIN, FLT_MIN, FLT_MIN},
    {"large and small", FLT_MAX, FLT_MIN, FLT_MAX},
  };
  return cr_make_param_array(ScaleRow, rows, sizeof(rows) / sizeof(*rows));
}

// Pitches within an octave and no interval preferred: every place is drawn for
// itself, so the chance of a line is the product of its pitches' shares.
ParameterizedTest(ScaleRow* row, path_counts, any_finite_weights_will_do)
{
  static PathProblem problem;
  static PathSolver  solver;
  Rng                rng = rng_seed(24, 1);
  oracle_plain(&problem, PATH_NOTE_CAPACITY, PATH_LEAP_MAX + 1);
  for (unsigned i = 0; i < PATH_CAMES * PATH_INTERVALS; ++i) {
    problem.habits[i / PATH_INTERVALS][i % PATH_INTERVALS] = (float)row->habit;
  }

  double   log_chance = 0.0;
  unsigned line[PATH_NOTE_CAPACITY];
  for (unsigned place = 0; place < problem.n_notes; ++place) {
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem.intervals[place][i] = (float)row->interval;
    }
    double total = 0.0;
    for (unsigned pitch = 0; pitch < problem.n_pitches; ++pitch) {
      const double share = 0.3 + 0.7 * rng_unit(&rng);

      problem.pitches[place][pitch].weight = (float)(row->pitch * share);
      total += (double)problem.pitches[place][pitch].weight;
    }
    line[place] = rng_below(&rng, problem.n_pitches);
    log_chance += log(problem.pitches[place][line[place]].weight / total);
  }
  cr_assert_eq(path_solve(&solver, &problem), STATUS_OK);
  cr_assert_float_eq(
    log(oracle_chance(&solver, &problem, line)), log_chance, 1e-9);

  uint8_t keys[PATH_NOTE_CAPACITY];
  path_draw(&solver, &problem, &rng, keys);
  oracle_indices(&problem, keys, line);
  for (unsigned place = 0; place < problem.n_notes; ++place) {
    cr_assert_lt(line[place], problem.n_pitches);
  }
}

/// Make two pitches, 0 and 1, and two more, out of reach of them and lighter;
/// the line must begin on the light ones.
static void
make_apart(PathProblem* const problem, const double light)
{
  oracle_plain(problem, PATH_NOTE_CAPACITY, 31);
  for (unsigned place = 0; place < problem->n_notes; ++place) {
    for (unsigned pitch = 0; pitch < problem->n_pitches; ++pitch) {
      const double weight = pitch <= 1    ? (place > 0)
                            : pitch == 29 ? light
                            : pitch == 30 ? 3.0 * light
                                          : 0.0;

      problem->pitches[place][pitch].weight = (float)weight;
    }
  }
}

// A line of light pitches is as likely as it is among its own, whatever the
// heavy ones beside them, which it cannot reach, would weigh.
Test(path_counts, what_is_out_of_reach_weighs_nothing)
{
  static PathProblem problem;
  static PathSolver  solver;
  unsigned           line[PATH_NOTE_CAPACITY];
  double             log_chance = 0.0;
  make_apart(&problem, 0.1);
  for (unsigned place = 0; place < problem.n_notes; ++place) {
    line[place] = 29 + place % 2;
    log_chance += log(place % 2 ? 0.75 : 0.25);
  }
  cr_assert_eq(path_solve(&solver, &problem), STATUS_OK);
  cr_assert_float_eq(
    log(oracle_chance(&solver, &problem, line)), log_chance, 1e-6);
}

Test(path_counts, the_lightest_line_is_found_where_it_is_the_only_one)
{
  static PathProblem problem;
  static PathSolver  solver;
  Rng                rng = rng_seed(25, 1);
  uint8_t            keys[PATH_NOTE_CAPACITY];
  make_apart(&problem, 1e-37);
  cr_assert_eq(path_solve(&solver, &problem), STATUS_OK);
  path_draw(&solver, &problem, &rng, keys);
  for (unsigned place = 0; place < problem.n_notes; ++place) {
    cr_assert_geq(keys[place], problem.lowest + 29);
  }
}
