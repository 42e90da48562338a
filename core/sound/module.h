/// @file core/sound/module.h The synthesiser as a module of the program.
///
/// FluidSynth brings sixty libraries with it, more than all else together. So
/// what knows it lies in a file of its own, `barter-sound.so`, which is opened
/// when sound is first wanted and stays.

#ifndef CORE_SOUND_MODULE_H
#define CORE_SOUND_MODULE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/sound.h"
#include "core/status.h"
#include "core/watch.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// A synthesiser on a sound device. Opaque.
typedef struct Speaker Speaker;

/// What the module does: `play` is synth_play() of core/synth/synth.h, the
/// others are those of core/synth/speaker.h.
typedef struct {
  const char* version; ///< Of the program that it was built with
  Status (*play)(const char*       soundfont,
                 const SoundEvent* events,
                 size_t            n_events,
                 float*            samples,
                 uint32_t          n_frames,
                 const Watch*      watch,
                 char              remark[SOUND_REMARK_CAPACITY],
                 Fault*            fault);
  Status (*open)(Speaker**   speaker,
                 const char* soundfont,
                 const char* driver,
                 Fault*      fault);
  void (*close)(Speaker* speaker);
  const char* (*driver)(const Speaker* speaker);
  bool (*is_alive)(Speaker* speaker);
  void (*send)(Speaker* speaker, const uint8_t bytes[3]);
  float (*peak)(const Speaker* speaker);
} SoundModule;

/**
   Find the module, beside the program by its search path.

   @param[out] module Written on success only.
   @return STATUS_OK; STATUS_MISSING, with the fault written, if there is none
   or it is another version's.
*/
MUST_USE Status
sound_module_open(const SoundModule** module, Fault* fault);

#endif // CORE_SOUND_MODULE_H
