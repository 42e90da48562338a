/// @file core/synth/synth.h FluidSynth as a source of samples.

#ifndef CORE_SYNTH_SYNTH_H
#define CORE_SYNTH_SYNTH_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/sound.h"
#include "core/status.h"
#include "core/watch.h"

#include <fluidsynth.h>

#include <stddef.h>
#include <stdint.h>

/**
   Play events into memory.

   @param soundfont A path that soundfont_check() found good.
   @param[out] samples 2 x `n_frames` numbers, left and right in turn.
   @param n_frames A multiple of SOUND_STEP.
   @param watch Looks on; NULL: nobody does.
   @param[out] remark The first warning, "" if none.
   @return STATUS_OK, STATUS_STOPPED if it was stopped, STATUS_SYNTAX if the
   font cannot be loaded, or STATUS_MEMORY.
*/
MUST_USE Status
synth_play(const char*       soundfont,
           const SoundEvent* events,
           size_t            n_events,
           float*            samples,
           uint32_t          n_frames,
           const Watch*      watch,
           char              remark[SOUND_REMARK_CAPACITY],
           Fault*            fault);

/// Send FluidSynth's log into `remark`, SOUND_REMARK_CAPACITY bytes, or nowhere
/// if that is NULL.
void
synth_listen(char* remark);

/**
   Make the settings of the whole sound.

   @param drivers The sound devices to look for, NULL at the end: looking prints
   and takes time.
   @return NULL if there is no memory; else the caller's to delete.
*/
fluid_settings_t*
synth_settings(const char** drivers);

/// Play a channel message.
void
synth_apply(fluid_synth_t* synth, const SoundEvent* event);

#endif // CORE_SYNTH_SYNTH_H
