#include "core/sound/sound.h"

#include "core/midi_message.h"
#include "core/sound/module.h"
#include "core/sound/soundfont.h"
#include "core/sound/wav.h"

#include <math.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;

// Levelling, as factors of the amplitude
static const float level_peak    = 0.7F; ///< 3 dB below full scale
static const float greatest_gain = 4.0F; ///< 12 dB: a hush stays a hush

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

/// Fade the tail out on half a cosine, from one to nothing.
static void
fade(float* const samples, const uint32_t n_frames)
{
  const uint32_t n_tail =
    (uint32_t)(INT64_C(1) * SOUND_TAIL_US * SOUND_RATE / 1000000);
  const uint32_t n_before = n_frames - n_tail;
  for (uint32_t i = 0; i < n_tail; ++i) {
    const float gain = (float)(0.5 + 0.5 * cos(pi * (i + 1U) / n_tail));
    samples[2U * (n_before + i)] *= gain;
    samples[2U * (n_before + i) + 1U] *= gain;
  }
}

static float
find_peak(const float* const samples, const uint32_t n_frames)
{
  float peak = 0.0F;
  for (size_t i = 0; i < 2U * (size_t)n_frames; ++i) {
    peak = fmaxf(peak, fabsf(samples[i]));
  }
  return peak;
}

static Status
render(const char* const       wav_path,
       const SoundEvent* const events,
       const size_t            n_events,
       const char* const       soundfont,
       const Watch* const      watch,
       float* const            samples,
       SoundReport* const      report,
       Fault* const            fault)
{
  SoundReport made   = {.n_frames = count_frames(events, n_events)};
  const void* table  = NULL;
  Status      status = module_open(SOUND_MODULE, &table, fault);
  if (!status) {
    const SoundModule* const module = table;
    status                          = module->play(soundfont,
                          events,
                          n_events,
                          samples,
                          made.n_frames,
                          watch,
                          made.remark,
                          fault);
  }
  if (status) {
    return status;
  }

  fade(samples, made.n_frames);
  made.peak = find_peak(samples, made.n_frames);
  made.gain = fminf(greatest_gain, level_peak / fmaxf(made.peak, 1e-6F));

  const Status written =
    wav_write(wav_path, SOUND_RATE, samples, made.n_frames, made.gain, fault);
  if (!written) {
    *report = made;
  }
  return written;
}

Status
sound_render(const char* const       wav_path,
             const SoundEvent* const events,
             const size_t            n_events,
             const char* const       soundfont,
             const Watch* const      watch,
             SoundReport* const      report,
             Fault* const            fault)
{
  char   found[SOUNDFONT_PATH_CAPACITY];
  Status status = check_events(events, n_events, fault);
  if (!status && !soundfont) {
    status = soundfont_find(found, fault);
  }
  const char* const font = soundfont ? soundfont : found;
  if (!status) {
    status = soundfont_check(font, fault);
  }
  if (status) {
    return status;
  }

  const size_t n_frames = count_frames(events, n_events);
  float* const samples  = calloc(2U * n_frames, sizeof(*samples));
  if (!samples) {
    return fault_set(fault,
                     STATUS_MEMORY,
                     wav_path,
                     0,
                     "no memory for %zu frames of sound",
                     n_frames);
  }
  status =
    render(wav_path, events, n_events, font, watch, samples, report, fault);
  free(samples);
  return status;
}
