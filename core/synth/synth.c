#include "core/synth/synth.h"

#include "core/midi_message.h"
#include "core/synth/trim.h"

#include <assert.h>
#include <math.h>
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
  {"synth.gain", 8.0},
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
  {"synth.dynamic-sample-loading", 1},
  {"synth.lock-memory", 0},
};

// As amplitudes: a part of full scale for peaks between the samples
static const float knee    = 0.6F;
static const float ceiling = 0.85F;

static void
keep_first(const int level, const char* const message, void* const data)
{
  char* const remark = data;
  if (remark && level <= FLUID_WARN && !remark[0]) {
    (void)snprintf(remark, SOUND_REMARK_CAPACITY, "%s", message);
  }
}

static void
listen(char* const remark)
{
  for (int level = 0; level < LAST_LOG_LEVEL; ++level) {
    (void)fluid_set_log_function(level, keep_first, remark);
  }
}

/// Make the settings of the whole sound; NULL if there is no memory.
static fluid_settings_t*
make_settings(const char** const drivers)
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

/// Let a channel sound as loud as others with its program; in centibels.
static void
trim(Synth* const synth, const int channel, const int program)
{
  const float trim_db = synth->trims_db[program];
  (void)fluid_synth_set_gen(
    synth->fluid, channel, GEN_ATTENUATION, 10.0F * trim_db);
}

// Refusals are not looked at: a note-off for a silent key is one.
void
synth_apply(Synth* const synth, const SoundEvent* const event)
{
  const int channel = event->status & 0x0F;
  const int data1   = event->data1;
  const int data2   = event->data2;
  switch (event->status & 0xF0) {
    case MIDI_NOTE_OFF:
      (void)fluid_synth_noteoff(synth->fluid, channel, data1);
      break;
    case MIDI_NOTE_ON:
      (void)fluid_synth_noteon(synth->fluid, channel, data1, data2);
      break;
    case MIDI_KEY_PRESSURE:
      (void)fluid_synth_key_pressure(synth->fluid, channel, data1, data2);
      break;
    case MIDI_CONTROL:
      (void)fluid_synth_cc(synth->fluid, channel, data1, data2);
      break;
    case MIDI_PROGRAM:
      (void)fluid_synth_program_change(synth->fluid, channel, data1);
      trim(synth, channel, channel == MIDI_DRUMS ? SOUND_DRUMS : data1);
      break;
    case MIDI_PRESSURE:
      (void)fluid_synth_channel_pressure(synth->fluid, channel, data1);
      break;
    case MIDI_BEND:
      (void)fluid_synth_pitch_bend(synth->fluid, channel, data2 << 7 | data1);
      break;
    default:
      assert(0 && "no channel message");
  }
}

Status
synth_open(Synth* const synth,
           const char** drivers,
           char* const  remark,
           Fault* const fault)
{
  listen(remark);
  Synth opened = {.settings = make_settings(drivers)};
  opened.fluid = opened.settings ? new_fluid_synth(opened.settings) : NULL;
  if (!opened.fluid) {
    synth_close(&opened);
    return fault_say(fault, STATUS_MEMORY, "the synthesiser could not be made");
  }
  *synth = opened;
  return STATUS_OK;
}

Status
synth_load(Synth* const         synth,
           const char* const    soundfont,
           const uint8_t* const programs,
           const size_t         n_programs,
           Fault* const         fault)
{
  synth->font = fluid_synth_sfload(synth->fluid, soundfont, 1);
  if (synth->font < 0) {
    return fault_in(
      fault, STATUS_SYNTAX, soundfont, "the sound font cannot be loaded");
  }
  trim_measure(synth, programs, n_programs);
  const int n_channels = fluid_synth_count_midi_channels(synth->fluid);
  for (int channel = 0; channel < n_channels; ++channel) {
    trim(synth, channel, channel == MIDI_DRUMS ? SOUND_DRUMS : 0);
  }
  return STATUS_OK;
}

void
synth_close(Synth* const synth)
{
  delete_fluid_synth(synth->fluid);
  delete_fluid_settings(synth->settings);
  listen(NULL);
}

/// Bend what is over the knee below the ceiling.
static float
bounded(const float sample)
{
  const float size = fabsf(sample);
  if (size <= knee) {
    return sample;
  }
  const float room = ceiling - knee;
  return copysignf(knee + room * tanhf((size - knee) / room), sample);
}

bool
synth_play(Synth* const synth,
           const int    n_frames,
           float* const left,
           float* const right,
           const int    stride)
{
  const bool plays =
    fluid_synth_write_float(
      synth->fluid, n_frames, left, 0, stride, right, 0, stride) == FLUID_OK;
  for (int i = 0; i < n_frames; ++i) {
    left[i * stride]  = bounded(left[i * stride]);
    right[i * stride] = bounded(right[i * stride]);
  }
  return plays;
}
