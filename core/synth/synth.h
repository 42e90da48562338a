/// @file core/synth/synth.h FluidSynth as a source of samples.

#ifndef CORE_SYNTH_SYNTH_H
#define CORE_SYNTH_SYNTH_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/sound.h"
#include "core/status.h"

#include <fluidsynth.h>

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// A synthesiser with a sound font in it.
typedef struct {
  fluid_settings_t* settings;
  fluid_synth_t*    fluid;
  int               font;
  float             trims_db[SOUND_MOST_PROGRAMS]; ///< As trim_measure() has it
} Synth;

/**
   Make a synthesiser.

   @param drivers The sound devices to look for, NULL at the end: looking prints
   and takes time.
   @param[out] remark Where FluidSynth's warnings go until synth_close(), the
   first one; NULL: nowhere.
   @param[out] synth Written on success; give it to synth_close().
   @return STATUS_OK or STATUS_MEMORY.
*/
MUST_USE Status
synth_open(Synth* synth, const char** drivers, char* remark, Fault* fault);

/**
   Load a sound font. A large one takes seconds.

   @param soundfont A path that soundfont_check() found good.
   @param programs Those that are made ready: their samples read, and trimmed
   (trim.h); another is read when it is chosen, and is about as loud.
   @return STATUS_OK, or STATUS_SYNTAX if it cannot be loaded.
*/
MUST_USE Status
synth_load(Synth*         synth,
           const char*    soundfont,
           const uint8_t* programs,
           size_t         n_programs,
           Fault*         fault);

/// Delete it.
void
synth_close(Synth* synth);

/// Play a channel message.
void
synth_apply(Synth* synth, const SoundEvent* event);

/**
   Play on for some frames.

   What is too loud is bounded: nothing comes out over 1 dB below full scale.

   @param left,right Where the first sample goes; the next `stride` numbers on.
   @return Whether FluidSynth could.
*/
bool
synth_play(Synth* synth, int n_frames, float* left, float* right, int stride);

#endif // CORE_SYNTH_SYNTH_H
