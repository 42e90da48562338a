#include "core/sound/sound.h"

#include "core/midi_message.h"
#include "core/sound/synth.h"
#include "core/sound/wav.h"

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

enum { LOOK_FRAMES = 1024 * SOUND_STEP }; // Of a look: about 1.5 s

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
      return fault_set(fault,
                       STATUS_RANGE,
                       NULL,
                       0,
                       "event %zu is at %lld us, outside %lld..%lld us",
                       i,
                       (long long)event.time_us,
                       (long long)earliest_us,
                       (long long)latest_us);
    }
    if (event.status < MIDI_NOTE_OFF || event.status >= MIDI_SYSTEM ||
        event.data1 > 127 || event.data2 > 127) {
      return fault_set(fault,
                       STATUS_RANGE,
                       NULL,
                       0,
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

/// Return the step's frame that is nearest to an event.
static uint32_t
frame_of(const SoundEvent* const event)
{
  const int64_t step_us_rate = INT64_C(1000000) * SOUND_STEP;
  const int64_t n_steps =
    (event->time_us * SOUND_RATE + step_us_rate / 2) / step_us_rate;
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

/// Play all into the file: false if it was stopped.
static bool
play(Synth* const            synth,
     const SoundEvent* const events,
     const size_t            n_events,
     const Watch* const      watch,
     WavSaving* const        wav,
     SoundReport* const      report)
{
  size_t i = 0;
  for (uint32_t frame = 0; frame < report->n_frames; frame += SOUND_STEP) {
    if (frame % LOOK_FRAMES == 0 &&
        !watch_goes_on(watch, (double)frame / report->n_frames)) {
      return false;
    }
    for (; i < n_events && frame_of(&events[i]) <= frame; ++i) {
      synth_apply(synth, &events[i]);
    }
    if (i == n_events) { // Let go of what was never released
      (void)fluid_synth_all_notes_off(synth->fluid, -1);
    }
    float samples[2 * SOUND_STEP];
    (void)synth_play(synth, SOUND_STEP, samples, samples + 1, 2);
    for (uint32_t at = 0; at < 2 * SOUND_STEP; ++at) {
      samples[at] *= fade_at(frame + at / 2, report->n_frames);
      report->peak = fmaxf(report->peak, fabsf(samples[at]));
    }
    wav_add(wav, samples, SOUND_STEP);
  }
  return watch_goes_on(watch, 1.0);
}

static Status
render(const char* const       wav_path,
       const SoundEvent* const events,
       const size_t            n_events,
       Synth* const            synth,
       const Watch* const      watch,
       SoundReport* const      report,
       Fault* const            fault)
{
  WavSaving    wav;
  const Status status =
    wav_begin(&wav, wav_path, SOUND_RATE, report->n_frames, fault);
  if (status) {
    return status;
  }
  if (!play(synth, events, n_events, watch, &wav, report)) {
    wav_abandon(&wav);
    return fault_set(fault, STATUS_STOPPED, NULL, 0, "stopped");
  }
  return wav_end(&wav, fault);
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
  char        path[SOUNDFONT_PATH_CAPACITY];
  const char* no_drivers[] = {NULL};
  uint8_t     programs[SOUND_MOST_PROGRAMS];
  SoundReport made;
  Synth       synth;
  Status      status = check_events(events, n_events, fault);
  if (!status) {
    status = soundfont_find(font, path, fault);
  }
  if (!status) {
    made   = (SoundReport){.n_frames = count_frames(events, n_events)};
    status = synth_open(&synth, no_drivers, made.remark, fault);
  }
  if (status) {
    return status;
  }
  status = synth_load(
    &synth, path, programs, list_programs(events, n_events, programs), fault);
  if (!status) {
    status = render(wav_path, events, n_events, &synth, watch, &made, fault);
  }
  synth_close(&synth);
  if (!status) {
    *report = made;
  }
  return status;
}
