/// @file core/synth/offline.h FluidSynth played as fast as it goes.

#ifndef CORE_SYNTH_OFFLINE_H
#define CORE_SYNTH_OFFLINE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/module.h"
#include "core/status.h"
#include "core/watch.h"

/**
   Play a piece, a step at a time.

   @param soundfont A path that soundfont_check() found good.
   @param watch Looks on; NULL: nobody does.
   @param[out] remark The first warning, "" if none.
   @return STATUS_OK, STATUS_STOPPED if it was stopped, STATUS_SYNTAX if the
   font cannot be loaded, or STATUS_MEMORY.
*/
MUST_USE Status
offline_play(const char*       soundfont,
             const SoundPiece* piece,
             SoundTaker        take,
             void*             context,
             const Watch*      watch,
             char              remark[SOUND_REMARK_CAPACITY],
             Fault*            fault);

#endif // CORE_SYNTH_OFFLINE_H
