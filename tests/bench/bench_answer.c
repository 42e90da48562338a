/// How long it takes to decide an answer, and that it grows with the notes
/// heard and no faster.
///
/// Wall time is what a listener waits for; thread time is what the answer costs
/// when the machine does nothing else in between.

#include "measure.h"

#include "core/rng.h"
#include "core/settings/chart_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/say/say.h"

#include <stdio.h>
#include <stdlib.h>

enum {
  BARS       = 4,
  PER_BAR    = 8, // Notes
  N_CALLS    = 64,
  N_ROUNDS   = 24000,
  N_WARM_UP  = 400,
  N_SIZES    = 3,
  NOTE_TICKS = 3840 / PER_BAR,
};

static const unsigned bars_by_size[N_SIZES] = {1, 2, 4};

static ChartFile  chart;
static Ladder     ladder;
static HearWork   hear_work;
static Thinking   say_work;
static Ideas      ideas;
static SayHistory history;
static Phrase     calls[N_SIZES][N_CALLS];
static Note       notes[N_SIZES][N_CALLS][BARS * PER_BAR];
static Phrase     heard;
static Answer     answer;

/// What the rounds of one size took.
typedef struct {
  double wall_us[N_ROUNDS];
  double thread_us[N_ROUNDS];
  double hear_us[N_ROUNDS]; ///< Hearing the call, thread time
} Times;

static Times times[N_SIZES];

static void
load(void)
{
  Faults faults = {.n_faults = 0};
  if (chart_file_load(&chart, BENCH_CONFIG "/charts/blues.cfg", &faults) ||
      ladder_file_load(&ladder, BENCH_CONFIG "/ladder.cfg", &faults)) {
    fprintf(stderr, "bench_answer: %s\n", faults.faults[0].text);
    exit(EXIT_FAILURE);
  }
}

static SayRequest
request_of(const unsigned size, const unsigned call)
{
  const Tick turn = 3840 * (Tick)bars_by_size[size];
  return (SayRequest){
    .ear   = ear_usual(&chart.chart, &ladder, 140.0),
    .rung  = {{N_NOTES_RUNGS, N_RHYTHM_RUNGS, N_SHAPE_RUNGS, N_ORNAMENT_RUNGS}},
    .start = turn,
    .earliest        = turn,
    .end             = 2 * turn,
    .call            = &calls[size][call],
    .ideas           = &ideas,
    .history         = &history,
    .lowest          = 48,
    .highest         = 84,
    .hand_span       = 12,
    .swing_ratio     = 1.7,
    .turn_in_chorus  = call % 4,
    .turns_in_chorus = 4,
  };
}

/// Make a call by chance: a note on every eighth, a little late or early.
static void
make_call(const unsigned size, const unsigned call, Rng* const rng)
{
  const unsigned n     = bars_by_size[size] * PER_BAR;
  unsigned       pitch = 62 + rng_below(rng, 12);
  for (unsigned i = 0; i < n; ++i) {
    pitch += rng_below(rng, 9);
    pitch -= pitch > 82 ? 18 : 4;
    const Tick tick      = (Tick)i * NOTE_TICKS + rng_below(rng, 30);
    notes[size][call][i] = (Note){tick, 400, (uint8_t)pitch, 80};
  }
}

static void
hear_call(const unsigned size, const unsigned call)
{
  const SayRequest request = request_of(size, call);
  hear_phrase(&heard,
              &hear_work,
              &request.ear,
              notes[size][call],
              bars_by_size[size] * PER_BAR,
              0,
              request.start);
}

static void
run_round(const unsigned size, const unsigned round, Rng* const rng)
{
  const unsigned   call    = round % N_CALLS;
  const SayRequest request = request_of(size, call);
  const double     begin   = measure_now_us(CLOCK_THREAD_CPUTIME_ID);
  hear_call(size, call);
  const double heard_at = measure_now_us(CLOCK_THREAD_CPUTIME_ID);
  const double wall     = measure_now_us(CLOCK_MONOTONIC);
  say_answer(&answer, &say_work, &request, rng);
  const double wall_end        = measure_now_us(CLOCK_MONOTONIC);
  const double end             = measure_now_us(CLOCK_THREAD_CPUTIME_ID);
  times[size].wall_us[round]   = wall_end - wall;
  times[size].thread_us[round] = end - heard_at;
  times[size].hear_us[round]   = heard_at - begin;
}

static void
print_row(const char* const what,
          const unsigned    n_notes,
          const char* const quantile,
          const double      value,
          const char* const must,
          const char* const beside)
{
  printf("BENCH {\"row\":\"%s, %u notes heard, top rung, %s\",\"value\":%.1f,"
         "\"unit\":\"us\",\"must\":\"%s\",\"beside\":\"%s\"}\n",
         what,
         n_notes,
         quantile,
         value,
         must,
         beside);
}

static void
print_quantiles(const char* const what, double sorted_us[const N_ROUNDS])
{
  const unsigned n = BARS * PER_BAR;
  measure_sort(sorted_us, N_ROUNDS);
  const double p999 = sorted_us[N_ROUNDS - N_ROUNDS / 1000 - 1];
  print_row(what, n, "median", sorted_us[N_ROUNDS / 2], "", "");
  print_row(what, n, "p99", sorted_us[N_ROUNDS - N_ROUNDS / 100 - 1], "", "");
  print_row(
    what, n, "p99.9", p999, "< 500", "960: one MIDI message on the wire");
}

static void
print_growth(void)
{
  for (unsigned size = 0; size < N_SIZES; ++size) {
    measure_sort(times[size].thread_us, N_ROUNDS);
  }
  const double first = times[0].thread_us[N_ROUNDS / 2];
  for (unsigned size = 0; size < N_SIZES; ++size) {
    char beside[64];
    (void)snprintf(beside,
                   sizeof(beside),
                   "%.1f by the 1 bar's median",
                   first * bars_by_size[size]);
    print_row("deciding an answer, thread time",
              bars_by_size[size] * PER_BAR,
              "median",
              times[size].thread_us[N_ROUNDS / 2],
              "linear in the notes",
              beside);
  }
}

// The sizes take turns, so that what else the machine does slows all alike.
int
main(void)
{
  Rng rng = rng_seed(1, 1);
  load();
  for (unsigned size = 0; size < N_SIZES; ++size) {
    for (unsigned call = 0; call < N_CALLS; ++call) {
      make_call(size, call, &rng);
      hear_call(size, call);
      calls[size][call] = heard;
    }
  }
  for (unsigned round = 0; round < N_WARM_UP + N_ROUNDS; ++round) {
    for (unsigned size = 0; size < N_SIZES; ++size) {
      run_round(size, round % N_ROUNDS, &rng);
    }
  }
  print_quantiles("deciding an answer, wall time", times[N_SIZES - 1].wall_us);
  print_quantiles("deciding an answer, thread time",
                  times[N_SIZES - 1].thread_us);
  print_quantiles("hearing the call, thread time", times[N_SIZES - 1].hear_us);
  print_growth();
  return EXIT_SUCCESS;
}
