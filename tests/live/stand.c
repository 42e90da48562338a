#include "stand.h"

#include "core/midi/smf_reader.h"
#include "core/settings/feel_file.h"
#include "core/time/monotonic.h"
#include "profiles/files/ladder_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

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
  if (!stand->is_alone) {
    loop_plug(*ports, PORT_IN, "Piano 20:0");
  }
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

static void
begin(Stand* const      stand,
      const char* const chart,
      const unsigned    choruses,
      const int         speed)
{
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
                .awaits_in   = stand->is_alone,
                .has_out     = true},
    .control = {0xB0, 66},
    .speed   = speed,
  };
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    options.voices[part] = (Voice){conversation_channel(part), 0, 100};
  }
  Fault fault;
  if (stage_open(&stand->stage, &options, &fault)) {
    die(fault.text);
  }
}

void
stand_begin(Stand* const      stand,
            const char* const chart,
            const unsigned    choruses,
            const int         speed)
{
  memset(stand, 0, sizeof(*stand));
  begin(stand, chart, choruses, speed);
}

void
stand_begin_alone(Stand* const      stand,
                  const char* const chart,
                  const unsigned    choruses,
                  const int         speed)
{
  memset(stand, 0, sizeof(*stand));
  stand->is_alone = true;
  begin(stand, chart, choruses, speed);
}

// What is on disk, by its tracks: the parts in their order after the first
static void
take_kept(Stand* const stand)
{
  SmfTake take;
  Fault   fault;
  stand->n_kept = 0;
  if (smf_load(&take, stand->path, SMF_US_PER_QUARTER, &fault)) {
    return;
  }
  if (take.n_notes > STAND_KEPT) {
    die("more notes than a test holds");
  }
  Tick first = 0; // Of bar 1
  for (size_t i = 0; i < take.n_texts; ++i) {
    if (strncmp(smf_text(&take, &take.texts[i]), "turn 1 ", 7) == 0) {
      first = take.texts[i].tick;
    }
  }
  for (size_t i = 0; i < take.n_notes; ++i) {
    const SmfNote note = take.notes[i];
    stand->kept[stand->n_kept++] =
      (PartNote){{note.tick - first, note.length, note.pitch, note.velocity},
                 (uint8_t)(note.track - 1)};
  }
  smf_free(&take);
}

// A save gives the file another inode
static void
count_save(Stand* const stand)
{
  struct stat about;
  if (stat(stand->path, &about) == 0 && about.st_ino != stand->inode) {
    stand->inode = about.st_ino;
    ++stand->n_saves;
  }
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

static void
take_news(Stand* const stand,
          void (*const hear_turn)(void* context, const TurnRecord* record),
          void* const context)
{
  MidiMessage seen;
  while (stage_see(stand->stage, &seen)) {
    ++stand->n_shown;
  }
  while (stage_take_news(stand->stage, &stand->news)) {
    stand->has_heard_of_keyboard |=
      !stand->news.is_turn && strstr(stand->news.words, "you are heard");
    if (stand->news.is_turn && hear_turn) {
      hear_turn(context, &stand->news.turn);
    }
    if (stand->look) {
      stand->look(stand, &stand->news);
    }
  }
}

void
stand_play(Stand* const             stand,
           const Performance* const performance,
           void (*const hear_turn)(void* context, const TurnRecord* record),
           void* const context)
{
  stand->status = stage_begin(stand->stage, performance);
  if (stand->status) {
    return;
  }
  while (stage_goes_on(stand->stage, &stand->result)) {
    take_news(stand, hear_turn, context);
    count_save(stand);
    monotonic_sleep_ms(20);
  }
  take_news(stand, hear_turn, context);
  stage_end(stand->stage, &stand->result);
  count_save(stand);
}

static void
make_folder(Stand* const stand)
{
  (void)snprintf(stand->folder, sizeof(stand->folder), "/tmp/stand-XXXXXX");
  if (!mkdtemp(stand->folder)) {
    die("no folder");
  }
  (void)snprintf(stand->path,
                 sizeof(stand->path),
                 "%s%s/kept.mid",
                 stand->folder,
                 stand->disk_is_gone ? "/gone" : "");
}

void
stand_perform(Stand* const stand,
              void* (*act)(void*),
              const bool sync,
              const bool click)
{
  static const ChoiceSound sounds[N_PARTS];
  make_folder(stand);
  const Recording recording = {
    .path    = stand->path,
    .session = &stand->session,
    .sounds  = sounds,
    .choices = RECORDING_HEADING,
  };
  const Performance performance = {
    .session   = &stand->session,
    .click     = click,
    .sync      = sync,
    .recording = &recording,
  };
  pthread_t actor;
  atomic_store(&stand->is_over, false);
  if (act && pthread_create(&actor, NULL, act, stand)) {
    die("no thread");
  }
  stand_play(stand, &performance, count_turn, stand);
  atomic_store(&stand->is_over, true);
  if (act) {
    (void)pthread_join(actor, NULL);
  }
  take_kept(stand);
  (void)unlink(stand->path);
  (void)rmdir(stand->folder);
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
