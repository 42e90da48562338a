/// How long the exact drawing of a line takes, and that it grows with the
/// notes and no faster.

#include "core/music/path.h"
#include "core/rng.h"
#include "core/status.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum {
  N_PITCHES = 25,
  N_ROUNDS  = 20000,
  N_WARM_UP = 200,
};

/// The middle and the slow end of many rounds.
typedef struct {
  double median_us;
  double p999_us;
} Times;

static double
now_us(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec * 1e6 + (double)now.tv_nsec * 1e-3;
}

static int
compare(const void* const a, const void* const b)
{
  const double x = *(const double*)a;
  const double y = *(const double*)b;
  return (x > y) - (x < y);
}

/// Make a problem without a forbidden pitch: no line takes longer.
static void
make_problem(PathProblem* const problem, Rng* const rng, const unsigned n_notes)
{
  problem->n_notes   = n_notes;
  problem->n_pitches = N_PITCHES;
  problem->lowest    = 55;
  for (unsigned place = 0; place < n_notes; ++place) {
    for (unsigned pitch = 0; pitch < N_PITCHES; ++pitch) {
      problem->pitches[place][pitch] = (PathPitch){
        (float)(0.1 + rng_unit(rng)),
        rng_below(rng, 6) == 0 ? PATH_LEAVE_TO_REST : PATH_LEAVE_FREE,
        (uint8_t)rng_below(rng, 2)};
    }
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->intervals[place][i] = (float)(0.1 + rng_unit(rng));
    }
  }
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = (float)(0.1 + rng_unit(rng));
    }
  }
}

static Times
sort_times(double times[N_ROUNDS])
{
  qsort(times, N_ROUNDS, sizeof(*times), compare);
  return (Times){times[N_ROUNDS / 2], times[N_ROUNDS - N_ROUNDS / 1000 - 1]};
}

static Times
time_solve(PathSolver* const solver, const PathProblem* const problem)
{
  static double times[N_ROUNDS];
  for (int round = -N_WARM_UP; round < N_ROUNDS; ++round) {
    const double begin  = now_us();
    const Status status = path_solve(solver, problem);
    const double end    = now_us();
    if (status) {
      fprintf(stderr, "bench_path: %s\n", status_text(status));
      exit(EXIT_FAILURE);
    }
    times[round < 0 ? 0 : round] = end - begin;
  }
  return sort_times(times);
}

static Times
time_draw(const PathSolver* const  solver,
          const PathProblem* const problem,
          Rng* const               rng)
{
  static double times[N_ROUNDS];
  for (int round = -N_WARM_UP; round < N_ROUNDS; ++round) {
    uint8_t      line[PATH_NOTE_CAPACITY];
    const double begin = now_us();
    path_draw(solver, problem, rng, line);
    times[round < 0 ? 0 : round] = now_us() - begin;
  }
  return sort_times(times);
}

static void
print_row(const char* const row,
          const double      value,
          const char* const must,
          const char* const beside)
{
  printf("BENCH {\"row\":\"%s\",\"value\":%.2f,\"unit\":\"us\","
         "\"must\":\"%s\",\"beside\":\"%s\"}\n",
         row,
         value,
         must,
         beside);
}

/// Print the rows of a call at 12 and at ten times 12 notes.
static void
print_times(const char* const call, const Times one, const Times ten)
{
  char row[64];
  char beside[64];
  snprintf(row, sizeof(row), "%s, 12 notes, median", call);
  print_row(row, one.median_us, "", "25 pitches");
  snprintf(row, sizeof(row), "%s, 12 notes, p99.9", call);
  print_row(row, one.p999_us, "< 500 for the whole answer", "25 pitches");

  snprintf(row, sizeof(row), "%s, 120 notes, median", call);
  snprintf(
    beside, sizeof(beside), "ten times 12 notes: %.2f", 10.0 * one.median_us);
  print_row(row, ten.median_us, "linear in the notes", beside);
  snprintf(row, sizeof(row), "%s, 120 notes, p99.9", call);
  print_row(row, ten.p999_us, "", "25 pitches");
}

int
main(void)
{
  static PathProblem problem;
  static PathSolver  solver;
  Rng                rng = rng_seed(1, 1);

  make_problem(&problem, &rng, 12);
  const Times solve_one = time_solve(&solver, &problem);
  const Times draw_one  = time_draw(&solver, &problem, &rng);
  make_problem(&problem, &rng, 32);
  const Times solve_phrase = time_solve(&solver, &problem);
  make_problem(&problem, &rng, 120);
  const Times solve_ten = time_solve(&solver, &problem);
  const Times draw_ten  = time_draw(&solver, &problem, &rng);

  print_times("path_solve", solve_one, solve_ten);
  print_times("path_draw", draw_one, draw_ten);
  print_row("path_solve, 32 notes, median",
            solve_phrase.median_us,
            "<= 40",
            "25 pitches");
  return EXIT_SUCCESS;
}
