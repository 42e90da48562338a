// How late notes are at the port, beside a bare loop of absolute sleeps in the
// same run, idle and with both cores busy;
// and what a session costs. Ports in memory: what is measured is ours.
#include "core/ports/loop.h"
#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "profiles/files/ladder_file.h"
#include "responder/stage/stage.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

enum { N_SLEEPS = 3000, SLEEP_MS = 4, N_BURNERS = 2 };

static const double shares[] = {0.5, 0.99};

// The bare loop

typedef struct {
  double late_us[N_SLEEPS];
  double cpu_s; ///< That it took itself
} Bare;

static int
compare(const void* const left, const void* const right)
{
  const double a = *(const double*)left;
  const double b = *(const double*)right;
  return (a > b) - (a < b);
}

static void*
sleep_barely(void* const context)
{
  Bare* const bare  = context;
  const Pace  pace  = pace_begin(1);
  int64_t     until = pace.origin_ns;
  (void)thread_hurry(70); // As the sender's
  for (unsigned i = 0; i < N_SLEEPS; ++i) {
    until += SLEEP_MS * NS_PER_MS;
    pace_sleep_until(&pace, until);
    bare->late_us[i] = (double)(monotonic_ns() - until) / 1000.0;
  }
  struct timespec used = {0, 0};
  (void)clock_gettime(CLOCK_THREAD_CPUTIME_ID, &used);
  bare->cpu_s = (double)used.tv_sec + (double)used.tv_nsec / 1e9;
  qsort(bare->late_us, N_SLEEPS, sizeof(*bare->late_us), compare);
  return NULL;
}

// The session

typedef struct {
  ChartFile      chart;
  Feel           feel;
  Ladder         ladder;
  SessionOptions session;
  Ports*         loop;
} Room;

static Status
open_loop(void* const context, Ports** const ports, Fault* const fault)
{
  Room* const room = context;
  if (loop_open(ports)) {
    return fault_set(fault, STATUS_MEMORY, NULL, 0, "no loop");
  }
  loop_plug(*ports, PORT_IN, "Piano");
  loop_plug(*ports, PORT_OUT, "Module");
  room->loop = *ports;
  return STATUS_OK;
}

static void
fit_up(Room* const room)
{
  Faults faults = {.n_faults = 0};
  if (chart_file_load(
        &room->chart, BENCH_CONFIG "/charts/blues.cfg", &faults) ||
      feel_file_load(&room->feel, BENCH_CONFIG "/feels/swing.cfg", &faults) ||
      ladder_file_load(&room->ladder, BENCH_CONFIG "/ladder.cfg", &faults)) {
    (void)printf("%s\n", faults.faults[0].text);
    exit(1);
  }
  room->session = (SessionOptions){
    .chart         = &room->chart.chart,
    .feel          = &room->feel,
    .ladder        = &room->ladder,
    .tempo_bpm     = 240.0,
    .bars_per_turn = 4,
    .choruses      = 1,
    .rung          = {{5, 4, 4, 2}},
    .seed          = 3,
    .split_pitch   = 60,
    .lowest        = 60,
    .highest       = 84,
    .hand_span     = 12,
    .spread_ms     = 20.0,
  };
}

typedef struct {
  double late_us[2];
  double cpu_s; ///< The whole process
  double wall_s;
} Played;

static double
cpu_s(void)
{
  struct rusage usage;
  (void)getrusage(RUSAGE_SELF, &usage);
  return (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
         (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
}

static Played
play(Room* const room)
{
  Fault        fault;
  Stage*       stage   = NULL;
  StageResult  result  = {.end = STAGE_OVER};
  Played       played  = {.cpu_s = 0.0};
  StageOptions options = {
    .wiring = {.open_system = open_loop,
               .context     = room,
               .has_in      = true,
               .has_out     = true},
    .speed  = 1,
    .stream = fopen("/dev/null", "w"),
  };
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    options.voices[part] = (Voice){conversation_channel(part), 0, 100};
  }
  if (!options.stream || stage_open(&stage, &options, &fault)) {
    (void)printf("%s\n", fault.text);
    exit(1);
  }
  const Performance performance = {.session = &room->session};
  const double      cpu         = cpu_s();
  const int64_t     begin       = monotonic_ns();
  if (stage_perform(stage, &performance, &result)) {
    exit(1);
  }
  played.cpu_s  = cpu_s() - cpu;
  played.wall_s = (double)(monotonic_ns() - begin) / 1e9;
  for (unsigned i = 0; i < 2; ++i) {
    played.late_us[i] = stage_lateness_us(stage, shares[i]);
  }
  stage_close(stage);
  (void)fclose(options.stream);
  return played;
}

// Both cores busy

static atomic_bool burns;

static void*
burn(void* const context)
{
  unsigned n = 1;
  (void)context;
  while (atomic_load_explicit(&burns, memory_order_relaxed)) {
    n = n * 1664525U + 1013904223U;
  }
  return n ? NULL : &burns;
}

static void
measure(Room* const room, const char* const load)
{
  static Bare bare;
  pthread_t   thread;
  if (thread_begin(&thread, sleep_barely, &bare)) { // Side by side
    exit(1);
  }
  const Played played = play(room);
  (void)pthread_join(thread, NULL);
  for (unsigned i = 0; i < 2; ++i) {
    const double floor_us =
      bare.late_us[(unsigned)(shares[i] * (N_SLEEPS - 1))];
    (void)printf("BENCH {\"row\":\"note at the port, lateness p%.0f, %s\","
                 "\"value\":%.0f,\"unit\":\"us\",\"must\":\"%s\","
                 "\"beside\":\"bare absolute sleeps %.0f us\"}\n",
                 shares[i] * 100.0,
                 load,
                 played.late_us[i],
                 i ? "within 1.2 x the loop + 50 us" : "",
                 floor_us);
  }
  if (strcmp(load, "idle") == 0) {
    struct rusage usage;
    (void)getrusage(RUSAGE_SELF, &usage);
    (void)printf("BENCH {\"row\":\"live session, share of one core\","
                 "\"value\":%.2f,\"unit\":\"%%\",\"must\":\"under 2\","
                 "\"beside\":\"\"}\n",
                 (played.cpu_s - bare.cpu_s) / played.wall_s * 100.0);
    (void)printf("BENCH {\"row\":\"live session, resident\",\"value\":%.1f,"
                 "\"unit\":\"MiB\",\"must\":\"under 16\",\"beside\":\"\"}\n",
                 (double)usage.ru_maxrss / 1024.0);
  }
}

int
main(void)
{
  static Room room;
  pthread_t   burners[N_BURNERS];
  fit_up(&room);
  measure(&room, "idle");
  atomic_store(&burns, true);
  for (unsigned i = 0; i < N_BURNERS; ++i) {
    if (pthread_create(&burners[i], NULL, burn, NULL)) {
      return 1;
    }
  }
  measure(&room, "both cores busy");
  atomic_store(&burns, false);
  for (unsigned i = 0; i < N_BURNERS; ++i) {
    (void)pthread_join(burners[i], NULL);
  }
  return 0;
}
