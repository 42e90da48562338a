#include "core/synth/speaker.h"

#include "core/midi_message.h"
#include "core/quiet/quiet.h"
#include "core/sound/sound.h"
#include "core/synth/synth.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"

#include <math.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static const char null_driver[] = "null";

// In the order that they are tried: the ones that share the device first
static const char* const known_drivers[] = {"jack", "pulseaudio", "alsa"};

enum {
  N_DRIVERS     = sizeof(known_drivers) / sizeof(*known_drivers),
  PERIOD_FRAMES = 128, ///< Frames, where a driver lets us say
  N_PERIODS     = 3,
  STILL_LOOKS   = 8,
};

struct Speaker {
  Synth                 synth;
  fluid_audio_driver_t* audio; ///< NULL: the thread below plays to nobody
  const char*           driver;
  pthread_t             thread;
  atomic_bool           is_ready; ///< Until then there is silence
  atomic_bool           stops;
  _Atomic float         peak;
  atomic_uint           n_steps; ///< That were played
  // Of the one who looks whether it is alive
  unsigned seen_steps;
  unsigned still_looks; ///< Without a step since
};

static int
play(void* const   context,
     const int     n_frames,
     const int     n_effects,
     float** const effects,
     const int     n_outs,
     float** const outs)
{
  Speaker* const speaker = context;
  (void)n_effects; // They are in the outs already
  (void)effects;
  if (n_outs < 2) {
    return FLUID_FAILED;
  }
  (void)atomic_fetch_add(&speaker->n_steps, 1);
  if (!atomic_load(&speaker->is_ready)) {
    memset(outs[0], 0, (size_t)n_frames * sizeof(*outs[0]));
    memset(outs[1], 0, (size_t)n_frames * sizeof(*outs[1]));
    return FLUID_OK;
  }
  return synth_play(&speaker->synth, n_frames, outs[0], outs[1], 1)
           ? FLUID_OK
           : FLUID_FAILED;
}

static void*
play_to_nobody(void* const context)
{
  Speaker* const speaker = context;
  const int64_t  begin   = monotonic_ns();
  const Pace     pace    = {begin, 1};
  for (int64_t step = 1; !atomic_load(&speaker->stops); ++step) {
    float  left[SOUND_STEP];
    float  right[SOUND_STEP];
    float* outs[] = {left, right};
    float  peak   = atomic_load(&speaker->peak);
    (void)play(speaker, SOUND_STEP, 0, NULL, 2, outs);
    for (unsigned i = 0; i < SOUND_STEP; ++i) {
      peak = fmaxf(peak, fmaxf(fabsf(left[i]), fabsf(right[i])));
    }
    atomic_store(&speaker->peak, peak);
    pace_sleep_until(&pace, begin + step * SOUND_STEP * NS_PER_S / SOUND_RATE);
  }
  return NULL;
}

static bool
begin_driver(Speaker* const speaker, const char* const driver)
{
  speaker->driver = driver;
  if (strcmp(driver, null_driver) == 0) {
    return !thread_begin(&speaker->thread, play_to_nobody, speaker);
  }
  (void)fluid_settings_setstr(speaker->synth.settings, "audio.driver", driver);
  speaker->audio =
    new_fluid_audio_driver2(speaker->synth.settings, play, speaker);
  return speaker->audio != NULL;
}

static bool
begin_any(Speaker* const speaker, const char* const driver)
{
  if (driver) {
    return begin_driver(speaker, driver);
  }
  for (unsigned i = 0; i < N_DRIVERS; ++i) {
    if (begin_driver(speaker, known_drivers[i])) {
      return true;
    }
  }
  return false;
}

static Status
no_device(const char* const driver, Fault* const fault)
{
  return fault_say(fault,
                   STATUS_SYSTEM,
                   "no sound device works (%s); connect or free one, play to a "
                   "MIDI port with --out PORT, or go without by --out none",
                   driver ? driver : "tried jack, pulseaudio and alsa");
}

/// Begin to play silence.
static Status
begin(Speaker* const speaker, const char* const driver, Fault* const fault)
{
  const char* drivers[N_DRIVERS + 1] = {NULL};
  memcpy(drivers, known_drivers, sizeof(known_drivers));
  const Status status = synth_open(&speaker->synth, drivers, NULL, fault);
  if (status) {
    return status;
  }
  fluid_settings_t* const settings = speaker->synth.settings;
  (void)fluid_settings_setint(settings, "audio.period-size", PERIOD_FRAMES);
  (void)fluid_settings_setint(settings, "audio.periods", N_PERIODS);
  (void)fluid_settings_setint(settings, "audio.jack.autoconnect", 1);
  (void)fluid_settings_setstr(settings, "audio.jack.id", "barter");
  if (begin_any(speaker, driver)) {
    return STATUS_OK;
  }
  synth_close(&speaker->synth);
  return no_device(driver, fault);
}

Status
speaker_open(Speaker** const   speaker,
             const char* const driver,
             Fault* const      fault)
{
  quiet_devices();
  Speaker* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  atomic_init(&opened->is_ready, false);
  atomic_init(&opened->stops, false);
  atomic_init(&opened->peak, 0.0F);
  atomic_init(&opened->n_steps, 0);
  const Status status = begin(opened, driver, fault);
  if (status) {
    free(opened);
    return status;
  }
  *speaker = opened;
  return STATUS_OK;
}

Status
speaker_load(Speaker* const        speaker,
             const char* const     soundfont,
             const LiveWish* const wish,
             Fault* const          fault)
{
  const Status status = synth_load(
    &speaker->synth, soundfont, wish->programs, wish->n_programs, fault);
  atomic_store(&speaker->is_ready, !status);
  return status;
}

void
speaker_close(Speaker* const speaker)
{
  if (speaker->audio) {
    delete_fluid_audio_driver(speaker->audio);
  } else {
    atomic_store(&speaker->stops, true);
    (void)pthread_join(speaker->thread, NULL);
  }
  synth_close(&speaker->synth);
  free(speaker);
}

const char*
speaker_driver(const Speaker* const speaker)
{
  return speaker->driver;
}

bool
speaker_is_alive(Speaker* const speaker)
{
  const unsigned n_steps = atomic_load(&speaker->n_steps);
  speaker->still_looks =
    n_steps == speaker->seen_steps ? speaker->still_looks + 1 : 0;
  speaker->seen_steps = n_steps;
  return speaker->still_looks < STILL_LOOKS;
}

void
speaker_send(Speaker* const speaker, const uint8_t bytes[3])
{
  const SoundEvent event = {0, bytes[0], bytes[1], bytes[2]};
  if (atomic_load(&speaker->is_ready) && event.status >= MIDI_NOTE_OFF &&
      event.status < MIDI_SYSTEM) {
    synth_apply(&speaker->synth, &event);
  }
}

float
speaker_peak(const Speaker* const speaker)
{
  return atomic_load(&speaker->peak);
}
