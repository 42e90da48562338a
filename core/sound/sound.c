#include "core/sound/sound.h"

#include "core/midi_message.h"
#include "core/sound/module.h"
#include "core/sound/wav.h"

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

static Status
check_events(const SoundEvent* const events,
             const size_t            n_events,
             Fault* const            fault)
{
  int64_t       earliest_us = 0;
  const int64_t latest_us   = SOUND_LONGEST_S * INT64_C(1000000);
  for (size_t i = 0; i < n_events; ++i) {
    const SoundEvent event = events[i];
    if (event.time_us < earliest_us || event.time_us > latest_us) {
      return fault_say(fault,
                       STATUS_RANGE,
                       "event %zu is at %lld us, outside %lld..%lld us",
                       i,
                       (long long)event.time_us,
                       (long long)earliest_us,
                       (long long)latest_us);
    }
    if (event.status < MIDI_NOTE_OFF || event.status >= MIDI_SYSTEM ||
        event.data1 > 127 || event.data2 > 127) {
      return fault_say(fault,
                       STATUS_RANGE,
                       "event %zu, %02x %02x %02x, is no channel message",
                       i,
                       event.status,
                       event.data1,
                       event.data2);
    }
    earliest_us = event.time_us;
  }
  return STATUS_OK;
}

/// Return the frames of the piece and its tail, rounded up to whole steps.
static uint32_t
count_frames(const SoundEvent* const events, const size_t n_events)
{
  const int64_t last_us      = n_events ? events[n_events - 1].time_us : 0;
  const int64_t step_us_rate = INT64_C(1000000) * SOUND_STEP;
  const int64_t n_steps =
    ((last_us + SOUND_TAIL_US) * SOUND_RATE + step_us_rate - 1) / step_us_rate;
  return (uint32_t)n_steps * SOUND_STEP;
}

/// List the programs that are played: return how many.
static size_t
list_programs(const SoundEvent* const events,
              const size_t            n_events,
              uint8_t                 programs[SOUND_MOST_PROGRAMS])
{
  bool is_played[SOUND_MOST_PROGRAMS] = {false};
  for (size_t i = 0; i < n_events; ++i) {
    const SoundEvent event = events[i];
    if ((event.status & 0x0F) == MIDI_DRUMS) {
      is_played[SOUND_DRUMS] = true;
    } else if ((event.status & 0xF0) == MIDI_PROGRAM) {
      is_played[event.data1] = true;
    }
  }
  size_t n = 0;
  for (unsigned i = 0; i < SOUND_MOST_PROGRAMS; ++i) {
    if (is_played[i]) {
      programs[n++] = (uint8_t)i;
    }
  }
  return n;
}

/// Return the factor of a frame: half a cosine over the tail, one before it.
static float
fade_at(const uint32_t frame, const uint32_t n_frames)
{
  const uint32_t n_tail =
    (uint32_t)(INT64_C(1) * SOUND_TAIL_US * SOUND_RATE / 1000000);
  const uint32_t n_before = n_frames - n_tail;
  return frame < n_before
           ? 1.0F
           : (float)(0.5 + 0.5 * cos(pi * (frame - n_before + 1U) / n_tail));
}

/// Where the sound goes.
typedef struct {
  WavSaving    wav;
  SoundReport* report;
  uint32_t     frame;
} Sink;

static void
take(void* const context, float samples[2 * SOUND_STEP])
{
  Sink* const        sink   = context;
  SoundReport* const report = sink->report;
  for (uint32_t i = 0; i < 2 * SOUND_STEP; ++i) {
    samples[i] *= fade_at(sink->frame + i / 2, report->n_frames);
    report->peak = fmaxf(report->peak, fabsf(samples[i]));
  }
  wav_add(&sink->wav, samples, SOUND_STEP);
  sink->frame += SOUND_STEP;
}

static Status
render(const char* const       wav_path,
       const SoundPiece* const piece,
       const char* const       soundfont,
       const Watch* const      watch,
       SoundReport* const      report,
       Fault* const            fault)
{
  const void* table  = NULL;
  Sink        sink   = {.report = report};
  Status      status = module_open(SOUND_MODULE, &table, fault);
  if (!status) {
    status =
      wav_begin(&sink.wav, wav_path, SOUND_RATE, report->n_frames, fault);
  }
  if (status) {
    return status;
  }
  const SoundModule* const module = table;
  status =
    module->play(soundfont, piece, take, &sink, watch, report->remark, fault);
  if (status) {
    wav_abandon(&sink.wav);
    return status;
  }
  return wav_end(&sink.wav, fault);
}

Status
sound_render(const char* const       wav_path,
             const SoundEvent* const events,
             const size_t            n_events,
             const SoundFont         font,
             const Watch* const      watch,
             SoundReport* const      report,
             Fault* const            fault)
{
  char   path[SOUNDFONT_PATH_CAPACITY];
  Status status = check_events(events, n_events, fault);
  if (!status) {
    status = soundfont_find(font, path, fault);
  }
  if (status) {
    return status;
  }
  uint8_t          programs[SOUND_MOST_PROGRAMS];
  SoundReport      made  = {.n_frames = count_frames(events, n_events)};
  const SoundPiece piece = {
    .events     = events,
    .n_events   = n_events,
    .programs   = programs,
    .n_programs = list_programs(events, n_events, programs),
    .n_frames   = made.n_frames,
  };
  status = render(wav_path, &piece, path, watch, &made, fault);
  if (!status) {
    *report = made;
  }
  return status;
}
