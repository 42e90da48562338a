#include "core/synth/synth.h"

#include "core/midi_message.h"

#include <assert.h>
#include <stdio.h>

typedef struct {
  const char* name;
  double      value;
} NumberSetting;

typedef struct {
  const char* name;
  int         value;
} WholeSetting;

// The whole sound of the room, by ear: a small, rather dry one, and no chorus.
static const NumberSetting number_settings[] = {
  {"synth.sample-rate", SOUND_RATE},
  {"synth.gain", 0.4},
  {"synth.reverb.room-size", 0.5},
  {"synth.reverb.damp", 0.3},
  {"synth.reverb.width", 0.8},
  {"synth.reverb.level", 0.5},
};

// Written down although most are FluidSynth's own defaults: another build's
// defaults would change the bytes. Locked memory only brings warnings.
static const WholeSetting whole_settings[] = {
  {"synth.reverb.active", 1},
  {"synth.chorus.active", 0},
  {"synth.polyphony", 256},
  {"synth.cpu-cores", 1},
  {"synth.dynamic-sample-loading", 0},
  {"synth.lock-memory", 0},
};

static void
keep_first(const int level, const char* const message, void* const data)
{
  char* const remark = data;
  if (remark && level <= FLUID_WARN && !remark[0]) {
    (void)snprintf(remark, SOUND_REMARK_CAPACITY, "%s", message);
  }
}

void
synth_listen(char* const remark)
{
  for (int level = 0; level < LAST_LOG_LEVEL; ++level) {
    (void)fluid_set_log_function(level, keep_first, remark);
  }
}

fluid_settings_t*
synth_settings(const char** const drivers)
{
  (void)fluid_audio_driver_register(drivers);

  fluid_settings_t* const settings = new_fluid_settings();
  if (settings) {
    for (size_t i = 0; i < sizeof(number_settings) / sizeof(*number_settings);
         ++i) {
      const NumberSetting* const setting = &number_settings[i];
      (void)fluid_settings_setnum(settings, setting->name, setting->value);
    }
    for (size_t i = 0; i < sizeof(whole_settings) / sizeof(*whole_settings);
         ++i) {
      const WholeSetting* const setting = &whole_settings[i];
      (void)fluid_settings_setint(settings, setting->name, setting->value);
    }
  }
  return settings;
}

// Refusals are not looked at: a note-off for a silent key is one.
void
synth_apply(fluid_synth_t* const synth, const SoundEvent* const event)
{
  const int channel = event->status & 0x0F;
  const int data1   = event->data1;
  const int data2   = event->data2;
  switch (event->status & 0xF0) {
    case MIDI_NOTE_OFF:
      (void)fluid_synth_noteoff(synth, channel, data1);
      break;
    case MIDI_NOTE_ON:
      (void)fluid_synth_noteon(synth, channel, data1, data2);
      break;
    case MIDI_KEY_PRESSURE:
      (void)fluid_synth_key_pressure(synth, channel, data1, data2);
      break;
    case MIDI_CONTROL:
      (void)fluid_synth_cc(synth, channel, data1, data2);
      break;
    case MIDI_PROGRAM:
      (void)fluid_synth_program_change(synth, channel, data1);
      break;
    case MIDI_PRESSURE:
      (void)fluid_synth_channel_pressure(synth, channel, data1);
      break;
    case MIDI_BEND:
      (void)fluid_synth_pitch_bend(synth, channel, data2 << 7 | data1);
      break;
    default:
      assert(0 && "no channel message");
  }
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

enum { LOOK_FRAMES = 1024 * SOUND_STEP }; // Of a look: about 1.5 s

// False if it was stopped
static bool
play(fluid_synth_t* const    synth,
     const SoundEvent* const events,
     const size_t            n_events,
     float* const            samples,
     const uint32_t          n_frames,
     const Watch* const      watch)
{
  size_t i = 0;
  for (uint32_t frame = 0; frame < n_frames; frame += SOUND_STEP) {
    if (frame % LOOK_FRAMES == 0 &&
        !watch_goes_on(watch, (double)frame / n_frames)) {
      return false;
    }
    for (; i < n_events && frame_of(&events[i]) <= frame; ++i) {
      synth_apply(synth, &events[i]);
    }
    if (i == n_events) { // Let go of what was never released
      (void)fluid_synth_all_notes_off(synth, -1);
    }
    float* const at = samples + 2U * (size_t)frame;
    (void)fluid_synth_write_float(synth, SOUND_STEP, at, 0, 2, at, 1, 2);
  }
  return watch_goes_on(watch, 1.0);
}

Status
synth_play(const char* const       soundfont,
           const SoundEvent* const events,
           const size_t            n_events,
           float* const            samples,
           const uint32_t          n_frames,
           const Watch* const      watch,
           char                    remark[SOUND_REMARK_CAPACITY],
           Fault* const            fault)
{
  assert(n_frames % SOUND_STEP == 0);

  Status status = STATUS_OK;
  remark[0]     = '\0';
  synth_listen(remark);
  const char*             no_drivers[] = {NULL};
  fluid_settings_t* const settings     = synth_settings(no_drivers);
  fluid_synth_t* const    synth = settings ? new_fluid_synth(settings) : NULL;
  if (!synth) {
    status = fault_set(
      fault, STATUS_MEMORY, NULL, 0, "the synthesiser could not be made");
  } else if (fluid_synth_sfload(synth, soundfont, 1) < 0) {
    status = fault_set(
      fault, STATUS_SYNTAX, soundfont, 0, "cannot be loaded: %s", remark);
  } else if (!play(synth, events, n_events, samples, n_frames, watch)) {
    status = fault_set(fault, STATUS_STOPPED, NULL, 0, "stopped");
  }

  delete_fluid_synth(synth);
  delete_fluid_settings(settings);
  synth_listen(NULL);
  return status;
}
