// How late FluidSynth's sequencer calls back, on the clock of an audio device
// of 48 kHz with periods of 64 frames, which a loop of absolute sleeps stands
// for. A program of its own: the library is not small. Prints the median and
// the 99th percentile, in microseconds.
#include "core/time/monotonic.h"
#include "measure.h"

#include <fluidsynth.h>
#include <stdbool.h>
#include <stdio.h>

enum {
  RATE          = 48000,
  PERIOD        = 64,
  HEAD_START_MS = 50,
  N_CALLS       = 1000,
  STEP_MS       = 5,
};

typedef struct {
  double   late_us[N_CALLS];
  unsigned n;
  int64_t  first_ns; // When the first is due
} Calls;

static void
hear(const unsigned           time,
     fluid_event_t* const     event,
     fluid_sequencer_t* const sequencer,
     void* const              context)
{
  Calls* const  calls  = context;
  const int64_t due_ns = (int64_t)calls->n * STEP_MS * NS_PER_MS;
  (void)time;
  (void)sequencer;
  if (fluid_event_get_type(event) == FLUID_SEQ_TIMER) {
    calls->late_us[calls->n++] =
      (double)(monotonic_ns() - calls->first_ns - due_ns) / 1000.0;
  }
}

static bool
ask(fluid_sequencer_t* const sequencer, Calls* const calls)
{
  fluid_event_t* const event = new_fluid_event();
  if (!event) {
    return false;
  }
  const fluid_seq_id_t id =
    fluid_sequencer_register_client(sequencer, "bench", hear, calls);
  fluid_event_set_source(event, -1);
  fluid_event_set_dest(event, id);
  fluid_event_timer(event, NULL);
  for (unsigned i = 0; i < N_CALLS; ++i) {
    (void)fluid_sequencer_send_at(
      sequencer, event, HEAD_START_MS + i * STEP_MS, 1);
  }
  delete_fluid_event(event);
  return true;
}

static void
sound(fluid_synth_t* const synth, Calls* const calls)
{
  static int16_t frames[2 * PERIOD];
  const Pace     pace = pace_begin(1);
  calls->first_ns     = pace.origin_ns + HEAD_START_MS * NS_PER_MS;
  for (int64_t period = 0; calls->n < N_CALLS; ++period) {
    pace_sleep_until(&pace, pace.origin_ns + period * PERIOD * NS_PER_S / RATE);
    (void)fluid_synth_write_s16(synth, PERIOD, frames, 0, 2, frames, 1, 2);
  }
}

int
main(void)
{
  static Calls            calls;
  fluid_settings_t* const settings = new_fluid_settings();
  (void)fluid_settings_setnum(settings, "synth.sample-rate", RATE);
  fluid_synth_t* const     synth     = new_fluid_synth(settings);
  fluid_sequencer_t* const sequencer = new_fluid_sequencer2(0);
  (void)fluid_sequencer_register_fluidsynth(sequencer, synth);
  if (!ask(sequencer, &calls)) {
    return 1;
  }
  sound(synth, &calls);
  measure_sort(calls.late_us, N_CALLS);
  (void)printf("%.0f %.0f\n",
               calls.late_us[N_CALLS / 2],
               calls.late_us[N_CALLS * 99 / 100]);
  delete_fluid_sequencer(sequencer);
  delete_fluid_synth(synth);
  delete_fluid_settings(settings);
  return 0;
}
