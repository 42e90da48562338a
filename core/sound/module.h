/// @file core/sound/module.h The module that knows FluidSynth, which brings
/// sixty libraries with it, more than all else together.

#ifndef CORE_SOUND_MODULE_H
#define CORE_SOUND_MODULE_H

#include "core/fault.h"
#include "core/module/module.h"
#include "core/sound/live.h"
#include "core/sound/sound.h"
#include "core/status.h"
#include "core/watch.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SOUND_MODULE "barter-sound"

/// A synthesiser on a sound device. Opaque.
typedef struct Speaker Speaker;

/// What is to be played, from the first event on.
typedef struct {
  const SoundEvent* events;
  size_t            n_events;
  const uint8_t*    programs; ///< That it asks for, 0..127 or SOUND_DRUMS
  size_t            n_programs;
  uint32_t          n_frames; ///< A multiple of SOUND_STEP
} SoundPiece;

/// Take SOUND_STEP frames, left and right in turn.
typedef void (*SoundTaker)(void* context, float samples[2 * SOUND_STEP]);

/// What the module does: `play` is offline_play() of core/synth/offline.h, the
/// others are those of core/synth/speaker.h.
typedef struct {
  ModuleHead head;
  Status (*play)(const char*       soundfont,
                 const SoundPiece* piece,
                 SoundTaker        take,
                 void*             context,
                 const Watch*      watch,
                 char              remark[SOUND_REMARK_CAPACITY],
                 Fault*            fault);
  Status (*open)(Speaker** speaker, const char* driver, Fault* fault);
  Status (*load)(Speaker*        speaker,
                 const char*     soundfont,
                 const LiveWish* wish,
                 Fault*          fault);
  void (*close)(Speaker* speaker);
  const char* (*driver)(const Speaker* speaker);
  bool (*is_alive)(Speaker* speaker);
  void (*send)(Speaker* speaker, const uint8_t bytes[3]);
  float (*peak)(const Speaker* speaker);
} SoundModule;

#endif // CORE_SOUND_MODULE_H
