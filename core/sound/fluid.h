/// @file core/sound/fluid.h FluidSynth, loaded when it is wanted and not
/// before.
///
/// It brings some sixty libraries with it, for sound devices of every kind.
/// Linked, they would be loaded at every start: four fifths of its time.

#ifndef CORE_SOUND_FLUID_H
#define CORE_SOUND_FLUID_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <fluidsynth.h>

/// Those of its functions that we call, under their names without "fluid".
typedef struct {
  int (*audio_driver_register)(const char** drivers);
  fluid_log_function_t (*set_log_function)(int                  level,
                                           fluid_log_function_t function,
                                           void*                data);
  fluid_settings_t* (*new_settings)(void);
  void (*delete_settings)(fluid_settings_t* settings);
  int (*settings_setnum)(fluid_settings_t* settings,
                         const char*       name,
                         double            value);
  int (*settings_setint)(fluid_settings_t* settings,
                         const char*       name,
                         int               value);
  int (*settings_setstr)(fluid_settings_t* settings,
                         const char*       name,
                         const char*       value);
  fluid_audio_driver_t* (*new_audio_driver2)(fluid_settings_t*  settings,
                                             fluid_audio_func_t play,
                                             void*              data);
  void (*delete_audio_driver)(fluid_audio_driver_t* driver);
  fluid_synth_t* (*new_synth)(fluid_settings_t* settings);
  void (*delete_synth)(fluid_synth_t* synth);
  int (*synth_sfload)(fluid_synth_t* synth, const char* path, int reset);
  int (*synth_noteon)(fluid_synth_t* synth, int channel, int key, int velocity);
  int (*synth_noteoff)(fluid_synth_t* synth, int channel, int key);
  int (*synth_key_pressure)(fluid_synth_t* synth, int channel, int key, int to);
  int (*synth_cc)(fluid_synth_t* synth, int channel, int controller, int to);
  int (*synth_program_change)(fluid_synth_t* synth, int channel, int program);
  int (*synth_channel_pressure)(fluid_synth_t* synth, int channel, int to);
  int (*synth_pitch_bend)(fluid_synth_t* synth, int channel, int to);
  int (*synth_all_notes_off)(fluid_synth_t* synth, int channel);
  int (*synth_write_float)(fluid_synth_t* synth,
                           int            n_frames,
                           void*          left,
                           int            left_offset,
                           int            left_stride,
                           void*          right,
                           int            right_offset,
                           int            right_stride);
} Fluid;

/**
   Load FluidSynth. It stays loaded for as long as the process lives.

   @param[out] fluid Written on success only.
   @return STATUS_OK; STATUS_MISSING, with a fault that says what to install.
*/
MUST_USE Status
fluid_load(Fluid* fluid, Fault* fault);

#endif // CORE_SOUND_FLUID_H
