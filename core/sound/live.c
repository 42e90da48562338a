#include "core/sound/live.h"

#include "core/midi_message.h"
#include "core/quiet/quiet.h"
#include "core/sound/soundfont.h"
#include "core/sound/synth.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"

#include <math.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static const char null_driver[] = "null";

// In the order that they are tried: the ones that share the device first
static const char* const live_drivers[] = {"jack", "pulseaudio", "alsa"};

enum {
  N_LIVE_DRIVERS = sizeof(live_drivers) / sizeof(*live_drivers),
  LIVE_PERIOD    = 128, ///< Frames, where a driver lets us say
  LIVE_PERIODS   = 3,
  STILL_LOOKS    = 8,
};

struct Live {
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
  Live* const live = context;
  (void)n_effects; // They are in the outs already
  (void)effects;
  if (n_outs < 2) {
    return FLUID_FAILED;
  }
  (void)atomic_fetch_add(&live->n_steps, 1);
  if (!atomic_load(&live->is_ready)) {
    memset(outs[0], 0, (size_t)n_frames * sizeof(*outs[0]));
    memset(outs[1], 0, (size_t)n_frames * sizeof(*outs[1]));
    return FLUID_OK;
  }
  return synth_play(&live->synth, n_frames, outs[0], outs[1], 1) ? FLUID_OK
                                                                 : FLUID_FAILED;
}

static void*
play_to_nobody(void* const context)
{
  Live* const   live  = context;
  const int64_t begin = monotonic_ns();
  const Pace    pace  = {begin, 1};
  for (int64_t step = 1; !atomic_load(&live->stops); ++step) {
    float  left[SOUND_STEP];
    float  right[SOUND_STEP];
    float* outs[] = {left, right};
    float  peak   = atomic_load(&live->peak);
    (void)play(live, SOUND_STEP, 0, NULL, 2, outs);
    for (unsigned i = 0; i < SOUND_STEP; ++i) {
      peak = fmaxf(peak, fmaxf(fabsf(left[i]), fabsf(right[i])));
    }
    atomic_store(&live->peak, peak);
    pace_sleep_until(&pace, begin + step * SOUND_STEP * NS_PER_S / SOUND_RATE);
  }
  return NULL;
}

static bool
begin_driver(Live* const live, const char* const driver)
{
  live->driver = driver;
  if (strcmp(driver, null_driver) == 0) {
    return !thread_begin(&live->thread, play_to_nobody, live);
  }
  (void)fluid_settings_setstr(live->synth.settings, "audio.driver", driver);
  live->audio = new_fluid_audio_driver2(live->synth.settings, play, live);
  return live->audio != NULL;
}

static bool
begin_any(Live* const live, const char* const driver)
{
  if (driver) {
    return begin_driver(live, driver);
  }
  for (unsigned i = 0; i < N_LIVE_DRIVERS; ++i) {
    if (begin_driver(live, live_drivers[i])) {
      return true;
    }
  }
  return false;
}

static Status
no_device(const char* const driver, Fault* const fault)
{
  return fault_set(fault,
                   STATUS_SYSTEM,
                   NULL,
                   0,
                   "no sound device works (%s); connect or free one, play to a "
                   "MIDI port with --out PORT, or go without by --out none",
                   driver ? driver : "tried jack, pulseaudio and alsa");
}

/// Begin to play silence.
static Status
begin(Live* const live, const char* const driver, Fault* const fault)
{
  const char* drivers[N_LIVE_DRIVERS + 1] = {NULL};
  memcpy(drivers, live_drivers, sizeof(live_drivers));
  const Status status = synth_open(&live->synth, drivers, NULL, fault);
  if (status) {
    return status;
  }
  fluid_settings_t* const settings = live->synth.settings;
  (void)fluid_settings_setint(settings, "audio.period-size", LIVE_PERIOD);
  (void)fluid_settings_setint(settings, "audio.periods", LIVE_PERIODS);
  (void)fluid_settings_setint(settings, "audio.jack.autoconnect", 1);
  (void)fluid_settings_setstr(settings, "audio.jack.id", "barter");
  if (begin_any(live, driver)) {
    return STATUS_OK;
  }
  synth_close(&live->synth);
  return no_device(driver, fault);
}

Status
live_open(Live** const live, const LiveWish* const wish, Fault* const fault)
{
  char path[SOUNDFONT_PATH_CAPACITY];
  quiet_devices();
  const Status found = soundfont_find(wish->font, path, fault);
  if (found) {
    return found;
  }
  Live* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  atomic_init(&opened->is_ready, false);
  atomic_init(&opened->stops, false);
  atomic_init(&opened->peak, 0.0F);
  atomic_init(&opened->n_steps, 0);
  Status status = begin(opened, wish->driver, fault);
  if (status) {
    free(opened);
    return status;
  }
  status = synth_load( // No font is read for nobody
    &opened->synth,
    path,
    wish->programs,
    wish->n_programs,
    fault);
  if (status) {
    live_close(opened);
    return status;
  }
  atomic_store(&opened->is_ready, true);
  *live = opened;
  return STATUS_OK;
}

void
live_close(Live* const live)
{
  if (!live) {
    return;
  }
  if (live->audio) {
    delete_fluid_audio_driver(live->audio);
  } else {
    atomic_store(&live->stops, true);
    (void)pthread_join(live->thread, NULL);
  }
  synth_close(&live->synth);
  free(live);
}

const char*
live_driver(const Live* const live)
{
  return live->driver;
}

bool
live_is_alive(Live* const live)
{
  const unsigned n_steps = atomic_load(&live->n_steps);
  live->still_looks = n_steps == live->seen_steps ? live->still_looks + 1 : 0;
  live->seen_steps  = n_steps;
  return live->still_looks < STILL_LOOKS;
}

void
live_send(Live* const live, const uint8_t bytes[3])
{
  const SoundEvent event = {0, bytes[0], bytes[1], bytes[2]};
  if (event.status >= MIDI_NOTE_OFF && event.status < MIDI_SYSTEM) {
    synth_apply(&live->synth, &event);
  }
}

float
live_peak(const Live* const live)
{
  return atomic_load(&live->peak);
}
