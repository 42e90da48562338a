#include "core/synth/offline.h"

#include "core/synth/synth.h"

enum { LOOK_FRAMES = 1024 * SOUND_STEP }; // Of a look: about 1.5 s

/// Return the step's frame that is nearest to an event.
static uint32_t
frame_of(const SoundEvent* const event)
{
  const int64_t step_us_rate = INT64_C(1000000) * SOUND_STEP;
  const int64_t n_steps =
    (event->time_us * SOUND_RATE + step_us_rate / 2) / step_us_rate;
  return (uint32_t)n_steps * SOUND_STEP;
}

// False if it was stopped
static bool
play(Synth* const            synth,
     const SoundPiece* const piece,
     const SoundTaker        take,
     void* const             context,
     const Watch* const      watch)
{
  size_t i = 0;
  for (uint32_t frame = 0; frame < piece->n_frames; frame += SOUND_STEP) {
    if (frame % LOOK_FRAMES == 0 &&
        !watch_goes_on(watch, (double)frame / piece->n_frames)) {
      return false;
    }
    for (; i < piece->n_events && frame_of(&piece->events[i]) <= frame; ++i) {
      synth_apply(synth, &piece->events[i]);
    }
    if (i == piece->n_events) { // Let go of what was never released
      (void)fluid_synth_all_notes_off(synth->fluid, -1);
    }
    float samples[2 * SOUND_STEP];
    (void)synth_play(synth, SOUND_STEP, samples, samples + 1, 2);
    take(context, samples);
  }
  return watch_goes_on(watch, 1.0);
}

Status
offline_play(const char* const       soundfont,
             const SoundPiece* const piece,
             const SoundTaker        take,
             void* const             context,
             const Watch* const      watch,
             char                    remark[SOUND_REMARK_CAPACITY],
             Fault* const            fault)
{
  const char* no_drivers[] = {NULL};
  Synth       synth;
  remark[0]     = '\0';
  Status status = synth_open(&synth, no_drivers, remark, fault);
  if (status) {
    return status;
  }
  status =
    synth_load(&synth, soundfont, piece->programs, piece->n_programs, fault);
  if (!status && !play(&synth, piece, take, context, watch)) {
    status = fault_say(fault, STATUS_STOPPED, "stopped");
  }
  synth_close(&synth);
  return status;
}
