// The engine's thread takes no memory and gives none back while a session
// passes. Besides main, which looks on, it is the only thread here.
#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/time/monotonic.h"
#include "profiles/files/ladder_file.h"
#include "responder/stage/engine.h"
#include "responder/stage/sender.h"

#include <stdio.h>
#include <stdlib.h>

enum { SPEED = 8, PRESS_MS = 9, REST_MS = 23, N_NOTES = 4096 };

static pthread_t   main_thread;
static atomic_uint n_of_main;
static atomic_uint n_of_engine;

static void
count(void)
{
  const bool is_main = pthread_equal(pthread_self(), main_thread);
  (void)atomic_fetch_add(is_main ? &n_of_main : &n_of_engine, 1);
}

// The linker puts these in the place of the library's (ld, --wrap)
void*
__real_malloc(size_t size);
void*
__real_calloc(size_t n, size_t size);
void*
__real_realloc(void* memory, size_t size);
void
__real_free(void* memory);
void*
__wrap_malloc(size_t size);
void*
__wrap_calloc(size_t n, size_t size);
void*
__wrap_realloc(void* memory, size_t size);
void
__wrap_free(void* memory);

void*
__wrap_malloc(const size_t size)
{
  count();
  return __real_malloc(size);
}

void*
__wrap_calloc(const size_t n, const size_t size)
{
  count();
  return __real_calloc(n, size);
}

void*
__wrap_realloc(void* const memory, const size_t size)
{
  count();
  return __real_realloc(memory, size);
}

void
__wrap_free(void* const memory)
{
  count();
  __real_free(memory);
}

static Engine      engine;
static ChartFile   chart;
static Feel        feel;
static Ladder      ladder;
static MidiMessage key_slots[ENGINE_KEYS];
static Outgoing    note_slots[N_NOTES];

static void
press(Ring* const keys, const uint8_t pitch, const uint8_t velocity)
{
  const MidiMessage message = {
    .time_ns = monotonic_ns(), .size = 3, .bytes = {0x90, pitch, velocity}};
  (void)ring_push(keys, &message);
}

// Play along until it is over; return how many turns were told
static unsigned
play_along(Ring* const keys, Ring* const notes)
{
  static const uint8_t pitches[] = {60, 63, 65, 67, 70, 67, 65, 63};
  static TurnRecord    record;
  unsigned             n_turns = 0;
  Outgoing             outgoing;
  Kept                 kept;
  for (unsigned i = 0; !atomic_load(&engine.is_over); ++i) {
    press(keys, pitches[i % 8], 80);
    monotonic_sleep_ms(PRESS_MS);
    press(keys, pitches[i % 8], 0);
    monotonic_sleep_ms(REST_MS);
    while (ring_pop(notes, &outgoing) || ring_pop(&engine.kept, &kept)) {
    }
    while (ring_pop(&engine.told, &record) ||
           ring_pop(&engine.turns, &record)) {
      ++n_turns;
    }
  }
  return n_turns / 2;
}

static bool
check(const bool holds, const char* const words)
{
  (void)printf("%s: %s\n", holds ? "holds" : "FAILED", words);
  return holds;
}

int
main(void)
{
  main_thread   = pthread_self();
  Faults faults = {.n_faults = 0};
  if (chart_file_load(&chart, LIVE_CONFIG "/charts/blues.cfg", &faults) ||
      feel_file_load(&feel, LIVE_CONFIG "/feels/swing.cfg", &faults) ||
      ladder_file_load(&ladder, LIVE_CONFIG "/ladder.cfg", &faults)) {
    (void)printf("%s\n", faults.faults[0].text);
    return 1;
  }
  const SessionOptions session = {
    .chart         = &chart.chart,
    .feel          = &feel,
    .ladder        = &ladder,
    .tempo_bpm     = 120.0,
    .bars_per_turn = 2,
    .choruses      = 1,
    .rung          = {{8, 6, 6, 4}},
    .seed          = 4,
    .split_pitch   = 60,
    .lowest        = 60,
    .highest       = 84,
    .hand_span     = 12,
    .spread_ms     = 20.0,
  };
  Ring       keys;
  Ring       notes;
  const Pace pace = pace_begin(SPEED);
  ring_setup(&keys, key_slots, sizeof(*key_slots), ENGINE_KEYS);
  ring_setup(&notes, note_slots, sizeof(*note_slots), N_NOTES);
  engine_setup(
    &engine,
    &pace,
    &keys,
    &notes,
    (EngineOptions){.session = &session, .click = true, .sync = true});
  if (engine_begin(&engine)) {
    return 1;
  }
  const unsigned n_turns = play_along(&keys, &notes);
  engine_end(&engine);

  // Six turns of two bars, three of them answers
  bool holds = check(n_turns == 6, "every turn was told");
  holds &= check(atomic_load(&n_of_main) > 0, "memory is counted");
  holds &= check(atomic_load(&n_of_engine) == 0, "the engine takes none");
  return !holds;
}
