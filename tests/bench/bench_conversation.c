/// How much faster than real time a whole conversation is made, and that it
/// grows with the choruses and no faster.

#include "measure.h"

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/record/drive.h"

#include <stdio.h>
#include <stdlib.h>

enum { BAR = 3840, KEY_CAPACITY = 40000, N_ROUNDS = 15 };

static const double tempo_bpm = 120.0;

static ChartFile chart;
static Feel      feel;
static Ladder    ladder;
static HeardKey  keys[KEY_CAPACITY];

static void
load(void)
{
  Faults faults = {.n_faults = 0};
  if (chart_file_load(&chart, BENCH_CONFIG "/charts/blues.cfg", &faults) ||
      feel_file_load(&feel, BENCH_CONFIG "/feels/swing.cfg", &faults) ||
      ladder_file_load(&ladder, BENCH_CONFIG "/ladder.cfg", &faults)) {
    fprintf(stderr, "bench_conversation: %s\n", faults.faults[0].text);
    exit(EXIT_FAILURE);
  }
}

static SessionOptions
options_for(const unsigned choruses)
{
  return (SessionOptions){
    .chart         = &chart.chart,
    .feel          = &feel,
    .ladder        = &ladder,
    .tempo_bpm     = tempo_bpm,
    .bars_per_turn = 4,
    .choruses      = choruses,
    .rung = {{N_NOTES_RUNGS, N_RHYTHM_RUNGS, N_SHAPE_RUNGS, N_ORNAMENT_RUNGS}},
    .seed = 1,
    .split_pitch = 60,
    .lowest      = 55,
    .highest     = 84,
    .hand_span   = 12,
    .spread_ms   = 20.0,
  };
}

// Eight swung notes in every bar of the player's, drawn by chance
static size_t
play(const unsigned choruses)
{
  size_t n   = 0;
  Rng    rng = rng_seed(1, 2);
  for (unsigned bar = 0; bar < choruses * 12; ++bar) {
    for (unsigned i = 0; i < 8 && bar / 4 % 2 == 0; ++i) {
      const Tick tick = bar * BAR + i * 480 + i % 2 * 100 + rng_below(&rng, 40);
      const uint8_t pitch = (uint8_t)(60 + rng_below(&rng, 24));
      keys[n++]           = (HeardKey){tick, pitch, 80};
      keys[n++]           = (HeardKey){tick + 300, pitch, 0};
    }
  }
  return n;
}

static void
count_turn(void* const context, const TurnRecord* const record)
{
  (void)record;
  ++*(unsigned*)context;
}

static double
converse_s(const unsigned choruses)
{
  const SessionOptions options = options_for(choruses);
  const size_t         n_keys  = play(choruses);
  double               times[N_ROUNDS];
  for (unsigned i = 0; i < N_ROUNDS; ++i) {
    Conversation conversation;
    unsigned     n_turns = 0;
    const double begin   = measure_now_us(CLOCK_MONOTONIC);
    if (drive_session(&conversation,
                      &options,
                      &(DrivePlayer){.keys      = keys,
                                     .n_keys    = n_keys,
                                     .hear_turn = count_turn,
                                     .context   = &n_turns})) {
      exit(EXIT_FAILURE);
    }
    times[i] = (measure_now_us(CLOCK_MONOTONIC) - begin) * 1e-6;
    conversation_free(&conversation);
  }
  measure_sort(times, N_ROUNDS);
  return times[N_ROUNDS / 2];
}

int
main(void)
{
  load();
  const double music_s = 12.0 * 12.0 * 4.0 * 60.0 / tempo_bpm;
  const double twelve  = converse_s(12);
  printf("BENCH {\"row\":\"twelve choruses offline, top rung\",\"value\":%.0f,"
         "\"unit\":\"x real time\",\"must\":\"over 5000\",\"beside\":\"\"}\n",
         music_s / twelve);

  const double two = converse_s(2);
  for (unsigned times = 10; times <= 40; times += 30) {
    printf("BENCH {\"row\":\"%u choruses beside two, each\",\"value\":%.2f,"
           "\"unit\":\"x its time\",\"must\":\"linear: about 1\","
           "\"beside\":\"\"}\n",
           2 * times,
           converse_s(2 * times) / two / times);
  }
  return EXIT_SUCCESS;
}
