/// @file core/synth/speaker.h FluidSynth on a sound device, heard as it is
/// played. What each call does stands in core/sound/live.h.

#ifndef CORE_SYNTH_SPEAKER_H
#define CORE_SYNTH_SPEAKER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/module.h"
#include "core/status.h"

#include <stdbool.h>
#include <stdint.h>

/**
   Open a synthesiser on a sound device; it is silent as yet.

   @param driver As in a LiveWish.
   @return STATUS_OK, STATUS_SYSTEM if no device works, or STATUS_MEMORY; with
   the fault written.
*/
MUST_USE Status
speaker_open(Speaker** speaker, const char* driver, Fault* fault);

/**
   Load a sound font.

   @param soundfont A path that soundfont_check() found good.
   @return STATUS_OK, or STATUS_SYNTAX if the font cannot be loaded, with the
   fault written.
*/
MUST_USE Status
speaker_load(Speaker*        speaker,
             const char*     soundfont,
             const LiveWish* wish,
             Fault*          fault);

void
speaker_close(Speaker* speaker);

const char*
speaker_driver(const Speaker* speaker);

bool
speaker_is_alive(Speaker* speaker);

void
speaker_send(Speaker* speaker, const uint8_t bytes[3]);

float
speaker_peak(const Speaker* speaker);

#endif // CORE_SYNTH_SPEAKER_H
