#include "stand.h"

#include "core/settings/feel_file.h"
#include "core/time/monotonic.h"
#include "profiles/files/ladder_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void
die(const char* const words)
{
  (void)printf("cannot begin: %s\n", words);
  exit(1);
}

static Status
open_loop(void* const context, Ports** const ports, Fault* const fault)
{
  Stand* const stand  = context;
  const Status status = loop_open(ports);
  if (status) {
    return fault_set(fault, status, NULL, 0, "no loop");
  }
  loop_plug(*ports, PORT_IN, "Piano 20:0");
  loop_plug(*ports, PORT_OUT, "Module 24:0");
  stand->loop = *ports;
  return STATUS_OK;
}

static void
load(Stand* const stand, const char* const chart)
{
  char   path[512];
  Faults faults = {.n_faults = 0};
  (void)snprintf(path, sizeof(path), LIVE_CONFIG "/charts/%s.cfg", chart);
  if (chart_file_load(&stand->chart, path, &faults) ||
      feel_file_load(&stand->feel, LIVE_CONFIG "/feels/swing.cfg", &faults) ||
      ladder_file_load(&stand->ladder, LIVE_CONFIG "/ladder.cfg", &faults)) {
    die(faults.faults[0].text);
  }
}

void
stand_begin(Stand* const      stand,
            const char* const chart,
            const unsigned    choruses,
            const int         speed)
{
  memset(stand, 0, sizeof(*stand));
  load(stand, chart);
  stand->session = (SessionOptions){
    .chart         = &stand->chart.chart,
    .feel          = &stand->feel,
    .ladder        = &stand->ladder,
    .tempo_bpm     = 120.0,
    .bars_per_turn = 4,
    .choruses      = choruses,
    .rung          = {{5, 4, 4, 2}},
    .seed          = 11,
    .split_pitch   = 60,
    .lowest        = 60,
    .highest       = 84,
    .hand_span     = 12,
    .spread_ms     = 20.0,
  };
  StageOptions options = {
    .wiring  = {.open_system = open_loop,
                .context     = stand,
                .has_in      = true,
                .has_out     = true},
    .control = {0xB0, 66},
    .speed   = speed,
    .stream  = fopen("/dev/null", "w"),
  };
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    options.voices[part] = (Voice){conversation_channel(part), 0, 100};
  }
  Fault fault;
  if (!options.stream || stage_open(&stand->stage, &options, &fault)) {
    die(fault.text);
  }
}

static Status
save(void* const               context,
     const Conversation* const conversation,
     Fault* const              fault)
{
  Stand* const stand = context;
  if (stand->disk_is_full) {
    return fault_set(fault, STATUS_SYSTEM, "kept.mid", 0, "no space left");
  }
  ++stand->n_saves;
  stand->n_kept = (unsigned)conversation->n_notes;
  if (stand->n_kept > STAND_KEPT) {
    die("more notes than a test holds");
  }
  memcpy(
    stand->kept, conversation->notes, stand->n_kept * sizeof(*stand->kept));
  return STATUS_OK;
}

static void
count_turn(void* const context, const TurnRecord* const record)
{
  Stand* const stand = context;
  atomic_fetch_add(&stand->n_turns, 1);
  atomic_fetch_add(&stand->n_judged, record->climb.target > 0.0);
  atomic_fetch_add(&stand->n_moved, record->climb.reason != CLIMB_STAYS);
}

static void
listen(Stand* const stand)
{
  MidiMessage message;
  while (loop_take(stand->loop, &message)) {
    if (stand->n_heard < STAND_HEARD) {
      stand->heard[stand->n_heard++] = message;
    }
  }
}

void
stand_perform(Stand* const stand,
              void* (*act)(void*),
              const bool sync,
              const bool click)
{
  const Performance performance = {
    .session   = &stand->session,
    .click     = click,
    .sync      = sync,
    .save      = save,
    .hear_turn = count_turn,
    .context   = stand,
  };
  pthread_t actor;
  atomic_store(&stand->is_over, false);
  if (act && pthread_create(&actor, NULL, act, stand)) {
    die("no thread");
  }
  stand->status = stage_perform(stand->stage, &performance, &stand->result);
  atomic_store(&stand->is_over, true);
  if (act) {
    (void)pthread_join(actor, NULL);
  }
  listen(stand);
}

void
stand_end(Stand* const stand)
{
  stage_close(stand->stage);
}

void
stand_check(Stand* const stand, const bool holds, const char* const words)
{
  if (!holds) {
    ++stand->n_failed;
    (void)printf("FAILED: %s\n", words);
  }
}

void
stand_key(Stand* const stand, const uint8_t pitch, const unsigned ms)
{
  const uint8_t down[] = {0x90, pitch, 90};
  const uint8_t up[]   = {0x80, pitch, 0};
  loop_play(stand->loop, "Piano 20:0", down, sizeof(down));
  monotonic_sleep_ms(ms);
  loop_play(stand->loop, "Piano 20:0", up, sizeof(up));
}

unsigned
stand_hanging(const Stand* const stand)
{
  unsigned sounding[16][128] = {{0}};
  unsigned n                 = 0;
  for (unsigned i = 0; i < stand->n_heard; ++i) {
    const uint8_t* const bytes = stand->heard[i].bytes;
    const unsigned       kind  = bytes[0] & 0xF0U;
    if (kind == 0x90) {
      sounding[bytes[0] & 15][bytes[1]] = 1;
    } else if (kind == 0x80) {
      sounding[bytes[0] & 15][bytes[1]] = 0;
    }
  }
  for (unsigned i = 0; i < 16; ++i) {
    for (unsigned key = 0; key < 128; ++key) {
      n += sounding[i][key];
    }
  }
  return n;
}
