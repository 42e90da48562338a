// How late notes are at the port, beside a bare loop of absolute sleeps and
// FluidSynth's sequencer in the same run, idle and with both cores busy; what a
// session costs; and an hour of playing in three minutes (`bench_live soak`:
// that alone). Ports in memory: what is measured is ours.
#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "profiles/files/ladder_file.h"
#include "responder/stage/stage.h"
#include "support/loop.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

enum {
  N_SLEEPS      = 6500,
  SLEEP_MS      = 4,
  N_BURNERS     = 2,
  EARLY_TURNS   = 20,
  N_KEYS        = 1000,
  SOAK_SPEED    = 20,
  SOAK_CHORUSES = 150
};

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
  thread_hurry(70); // As the sender's
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
  // Of a long session
  unsigned n_turns;
  double   early_mib; ///< Resident after a few turns
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
    .tempo_bpm     = 120.0,
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

// What is resident now; Linux only, else 0
static double
resident_mib(void)
{
  unsigned long pages = 0;
  FILE* const   file  = fopen("/proc/self/statm", "r");
  if (!file || fscanf(file, "%*u %lu", &pages) != 1) {
    pages = 0;
  }
  if (file) {
    (void)fclose(file);
  }
  return (double)pages * 4096.0 / 1048576.0;
}

static void
count_turn(Room* const room, const StageNews* const news)
{
  if (news->is_turn && ++room->n_turns == EARLY_TURNS) {
    room->early_mib = resident_mib();
  }
}

typedef struct {
  double   late_us[2];
  double   cpu_s; ///< The whole process
  double   wall_s;
  unsigned n_dropped;
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
play(Room* const room, const int speed)
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
    .speed  = speed,
  };
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    options.voices[part] = (Voice){conversation_channel(part), 0, 100};
  }
  if (stage_open(&stage, &options, &fault)) {
    (void)printf("%s\n", fault.text);
    exit(1);
  }
  static StageNews  news;
  const Performance performance = {.session = &room->session};
  const double      cpu         = cpu_s();
  const int64_t     begin       = monotonic_ns();
  if (stage_begin(stage, &performance)) {
    exit(1);
  }
  while (stage_goes_on(stage, &result)) {
    while (stage_take_news(stage, &news)) {
      count_turn(room, &news);
    }
    monotonic_sleep_ms(20);
  }
  stage_end(stage, &result);
  played.cpu_s  = cpu_s() - cpu;
  played.wall_s = (double)(monotonic_ns() - begin) / 1e9;
  for (unsigned i = 0; i < 2; ++i) {
    played.late_us[i] = stage_lateness_us(stage, shares[i]);
  }
  played.n_dropped = result.n_dropped + result.n_lost;
  stage_close(stage);
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

// What FluidSynth's sequencer reaches now, in a process of its own
static void
read_sequencer(double late_us[2])
{
  FILE* const pipe = popen(BESIDE_SEQUENCER, "r");
  if (!pipe || fscanf(pipe, "%lf %lf", &late_us[0], &late_us[1]) != 2 ||
      pclose(pipe)) {
    (void)printf("FluidSynth's sequencer cannot be measured\n");
    exit(1);
  }
}

static void
measure(Room* const room, const char* const load)
{
  static Bare bare;
  double      sequencer_us[2];
  pthread_t   thread;
  read_sequencer(sequencer_us);
  if (thread_begin(&thread, sleep_barely, &bare)) { // Side by side
    exit(1);
  }
  const Played played = play(room, 1);
  (void)pthread_join(thread, NULL);
  for (unsigned i = 0; i < 2; ++i) {
    (void)printf("BENCH {\"row\":\"note at the port, lateness p%.0f, %s\","
                 "\"value\":%.0f,\"unit\":\"us\",\"must\":\"%s\","
                 "\"beside\":\"bare absolute sleeps %.0f us, FluidSynth's "
                 "sequencer %.0f us\"}\n",
                 shares[i] * 100.0,
                 load,
                 played.late_us[i],
                 i ? "within 1.2 x the loop + 50 us" : "",
                 bare.late_us[(unsigned)(shares[i] * (N_SLEEPS - 1))],
                 sequencer_us[i]);
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

// From a key's arrival to where it is sent on, by --thru
static void
pass_through(Room* const room)
{
  static double late_us[N_KEYS];
  Fault         fault;
  Stage*        stage   = NULL;
  StageOptions  options = {
     .wiring = {.open_system = open_loop,
                .context     = room,
                .has_in      = true,
                .has_out     = true},
     .thru   = true,
     .speed  = 1,
  };
  if (stage_open(&stage, &options, &fault)) {
    (void)printf("%s\n", fault.text);
    exit(1);
  }
  for (unsigned i = 0; i < N_KEYS; ++i) {
    const uint8_t key[]   = {i % 2 ? 0x80 : 0x90, 60, 90};
    const int64_t begin   = monotonic_ns();
    MidiMessage   message = {.size = 0};
    loop_play(room->loop, "Piano", key, sizeof(key));
    while (message.bytes[0] != key[0]) {
      if (!loop_take(room->loop, &message)) {
        monotonic_sleep_ms(1);
      }
    }
    late_us[i] = (double)(message.time_ns - begin) / 1000.0;
    monotonic_sleep_ms(1 + i % 5);
  }
  stage_close(stage);
  qsort(late_us, N_KEYS, sizeof(*late_us), compare);
  (void)printf("BENCH {\"row\":\"key in to key out by --thru, p99\",\"value\":"
               "%.2f,\"unit\":\"ms\",\"must\":\"under 2\",\"beside\":"
               "\"p50 %.2f ms\"}\n",
               late_us[N_KEYS * 99 / 100] / 1000.0,
               late_us[N_KEYS / 2] / 1000.0);
}

// An hour of playing at twenty times the pace; what is kept of it grows, a few
// bytes a note
static void
soak(Room* const room)
{
  room->session.choruses = SOAK_CHORUSES; // Of 24 s
  const Played played    = play(room, SOAK_SPEED);
  (void)printf("BENCH {\"row\":\"an hour at x20, %u turns, notes late or "
               "lost\",\"value\":%u,\"unit\":\"\",\"must\":\"0\","
               "\"beside\":\"\"}\n",
               room->n_turns,
               played.n_dropped);
  (void)printf("BENCH {\"row\":\"an hour at x20, growth of what is resident\","
               "\"value\":%.1f,\"unit\":\"MiB\",\"must\":\"the notes kept, "
               "under 8\",\"beside\":\"%.1f MiB after %d turns\"}\n",
               resident_mib() - room->early_mib,
               room->early_mib,
               EARLY_TURNS);
}

int
main(const int argc, char** const argv)
{
  static Room room;
  pthread_t   burners[N_BURNERS];
  fit_up(&room);
  if (argc > 1 && strcmp(argv[1], "soak") == 0) {
    soak(&room);
    return 0;
  }
  measure(&room, "idle");
  pass_through(&room);
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
  soak(&room);
  return 0;
}
