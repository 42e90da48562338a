/// How long the exact drawing of a line takes, and that it grows with the
/// notes and no faster.

#include "measure.h"

#include "core/music/path.h"
#include "core/rng.h"
#include "core/status.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

enum {
  N_PITCHES = 25,
  N_ROUNDS  = 10000,
  N_WARM_UP = 200,
  N_SIZES   = 3,
};

static const unsigned n_notes_by_size[N_SIZES] = {12, 32, 120};

/// A problem of some size and how long each round took with it.
typedef struct {
  PathProblem problem;
  PathSolver  solver;
  double      solve_us[N_ROUNDS];
  double      draw_us[N_ROUNDS];
} Bench;

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
        (uint8_t)rng_below(rng, 2),
        0};
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

static void
run_round(Bench* const bench, Rng* const rng, const unsigned round)
{
  uint8_t      line[PATH_NOTE_CAPACITY];
  const double begin  = measure_now_us(CLOCK_MONOTONIC);
  const Status status = path_solve(&bench->solver, &bench->problem);
  const double solved = measure_now_us(CLOCK_MONOTONIC);
  if (status) {
    fprintf(stderr, "bench_path: %s\n", status_text(status));
    exit(EXIT_FAILURE);
  }
  path_draw(&bench->solver, &bench->problem, rng, line);

  bench->solve_us[round] = solved - begin;
  bench->draw_us[round]  = measure_now_us(CLOCK_MONOTONIC) - solved;
}

static double
median(const double sorted_us[const N_ROUNDS])
{
  return sorted_us[N_ROUNDS / 2];
}

/// Print the rows of a call at one size; `first_us` is the first size's median.
static void
print_rows(const char* const call,
           const unsigned    n_notes,
           const double      sorted_us[const N_ROUNDS],
           const double      first_us)
{
  printf("BENCH {\"row\":\"%s, %u notes of %d pitches, median\","
         "\"value\":%.2f,\"unit\":\"us\",\"must\":\"linear in the notes\","
         "\"beside\":\"%.2f by the %u notes' median\"}\n",
         call,
         n_notes,
         N_PITCHES,
         median(sorted_us),
         first_us * n_notes / n_notes_by_size[0],
         n_notes_by_size[0]);
  printf("BENCH {\"row\":\"%s, %u notes of %d pitches, p99.9\","
         "\"value\":%.2f,\"unit\":\"us\",\"must\":\"< 500, all candidates "
         "together\",\"beside\":\"%.2f median\"}\n",
         call,
         n_notes,
         N_PITCHES,
         sorted_us[N_ROUNDS - N_ROUNDS / 1000 - 1],
         median(sorted_us));
}

// The sizes take turns, so that what else the machine does slows all alike.
int
main(void)
{
  static Bench benches[N_SIZES];
  Rng          rng = rng_seed(1, 1);
  for (unsigned size = 0; size < N_SIZES; ++size) {
    make_problem(&benches[size].problem, &rng, n_notes_by_size[size]);
  }
  for (unsigned round = 0; round < N_WARM_UP + N_ROUNDS; ++round) {
    for (unsigned size = 0; size < N_SIZES; ++size) {
      run_round(&benches[size], &rng, round % N_ROUNDS);
    }
  }

  for (unsigned size = 0; size < N_SIZES; ++size) {
    Bench* const bench = &benches[size];
    measure_sort(bench->solve_us, N_ROUNDS);
    measure_sort(bench->draw_us, N_ROUNDS);

    const unsigned n_notes = n_notes_by_size[size];
    print_rows(
      "path_solve", n_notes, bench->solve_us, median(benches[0].solve_us));
    print_rows(
      "path_draw", n_notes, bench->draw_us, median(benches[0].draw_us));
  }
  return EXIT_SUCCESS;
}
