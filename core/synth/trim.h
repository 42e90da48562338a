/// @file core/synth/trim.h The sounds of a font made equally loud.
///
/// Fonts differ: here the piano is the loudest, there the organ. Each sound
/// plays a short phrase in its own register, and what it is too loud is taken
/// off it. The balance of the parts is then theirs alone who set their levels,
/// with any font.

#ifndef CORE_SYNTH_TRIM_H
#define CORE_SYNTH_TRIM_H

#include "core/synth/synth.h"

#include <stddef.h>
#include <stdint.h>

/**
   Keep the samples of some programs ready and write how much is to be taken off
   each; off all others, what is usual.

   @param synth Silent; it is again when this ends.
   @param programs 0..127, or SOUND_DRUMS.
*/
void
trim_measure(Synth* synth, const uint8_t* programs, size_t n_programs);

#endif // CORE_SYNTH_TRIM_H
