/// @file core/settings/gm.h General MIDI's names of sounds and drums.

#ifndef CORE_SETTINGS_GM_H
#define CORE_SETTINGS_GM_H

#include "core/settings/settings.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  GM_N_PROGRAMS  = 128,
  GM_LOWEST_DRUM = 35,
  GM_N_DRUMS     = 47,
};

/// Return a program's name in small letters: `acoustic grand piano`.
/// @param program As it is sent, 0..127.
const char*
gm_program_name(unsigned program);

/// Find a program by its name or its number as General MIDI counts, 1..128;
/// false if it is none.
bool
gm_find_program(const char* text, uint8_t* program);

/**
   Read a program: its name, or its number as General MIDI counts, 1..128.

   @return The program as it is sent, 0..127; `fallback` if the setting is
   absent or at fault, which is noted.
*/
uint8_t
gm_program(Setting setting, uint8_t fallback);

/**
   Read a drum: its name, or its key, 35..81.

   @return The key; `fallback` if the setting is absent or at fault, which is
   noted.
*/
uint8_t
gm_drum(Setting setting, uint8_t fallback);

#endif // CORE_SETTINGS_GM_H
