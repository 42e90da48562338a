#include "core/sound/fluid.h"

#include <dlfcn.h>
#include <stddef.h>
#include <string.h>

// The name that goes with the headers of version 2
static const char library_name[] = "libfluidsynth.so.3";

typedef struct {
  const char* name;
  size_t      offset; ///< Of the pointer in Fluid
} Function;

// The second operand is nothing, but does not compile if the pointer's type is
// another than the function's in FluidSynth's header.
#define ROW(member, function)                                                  \
  {                                                                            \
#function, offsetof(Fluid, member) +                                       \
                 0 * sizeof(1 ? ((Fluid*)0)->member : (function))              \
  }

static const Function functions[] = {
  ROW(audio_driver_register, fluid_audio_driver_register),
  ROW(set_log_function, fluid_set_log_function),
  ROW(new_settings, new_fluid_settings),
  ROW(delete_settings, delete_fluid_settings),
  ROW(settings_setnum, fluid_settings_setnum),
  ROW(settings_setint, fluid_settings_setint),
  ROW(settings_setstr, fluid_settings_setstr),
  ROW(new_audio_driver2, new_fluid_audio_driver2),
  ROW(delete_audio_driver, delete_fluid_audio_driver),
  ROW(new_synth, new_fluid_synth),
  ROW(delete_synth, delete_fluid_synth),
  ROW(synth_sfload, fluid_synth_sfload),
  ROW(synth_noteon, fluid_synth_noteon),
  ROW(synth_noteoff, fluid_synth_noteoff),
  ROW(synth_key_pressure, fluid_synth_key_pressure),
  ROW(synth_cc, fluid_synth_cc),
  ROW(synth_program_change, fluid_synth_program_change),
  ROW(synth_channel_pressure, fluid_synth_channel_pressure),
  ROW(synth_pitch_bend, fluid_synth_pitch_bend),
  ROW(synth_all_notes_off, fluid_synth_all_notes_off),
  ROW(synth_write_float, fluid_synth_write_float),
};

Status
fluid_load(Fluid* const fluid, Fault* const fault)
{
  void* const library = dlopen(library_name, RTLD_NOW | RTLD_LOCAL);
  if (!library) {
    return fault_set(fault,
                     STATUS_MISSING,
                     library_name,
                     0,
                     "cannot be loaded; install the package libfluidsynth3");
  }

  Fluid loaded;
  for (size_t i = 0; i < sizeof(functions) / sizeof(*functions); ++i) {
    void* const address = dlsym(library, functions[i].name);
    if (!address) {
      return fault_set(fault,
                       STATUS_MISSING,
                       library_name,
                       0,
                       "has no %s; version 2 is wanted",
                       functions[i].name);
    }
    memcpy((char*)&loaded + functions[i].offset, &address, sizeof(address));
  }
  *fluid = loaded;
  return STATUS_OK;
}
