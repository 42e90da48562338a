/// @file core/settings/value.h The values of settings, checked.
///
/// A value that is wrong is noted as a fault and the fallback returned; one
/// that is absent is no fault, and the fallback is returned too. What must be
/// there is asked for by value_need().

#ifndef CORE_SETTINGS_VALUE_H
#define CORE_SETTINGS_VALUE_H

#include "core/music/pitch.h"
#include "core/music/text.h"
#include "core/settings/settings.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// Return a member of a group, as setting_find(), but note a fault if there is
/// none.
/// @param hint What would be right: `bars = [ "I7", "IV7" ];`
Setting
value_need(Setting group, const char* name, const char* hint);

/**
   Note every member of a group whose name is not known, with the nearest that
   is.

   @param names `n_names` names.
*/
void
value_allow(Setting group, const char* const* names, size_t n_names);

/// Return a setting that must be a group; absent, with a fault noted, if it is
/// something else.
Setting
value_group(Setting setting);

/**
   Return how many elements a list has; anything else than a list of `least` to
   `most` elements is a fault, and 0 is returned.
*/
unsigned
value_count(Setting list, unsigned least, unsigned most);

/// Return a whole number, `lowest` to `highest`; `4.0` is one.
int
value_int(Setting setting, int lowest, int highest, int fallback);

/// Return a finite number, `lowest` to `highest`, written `120` or `120.0`.
double
value_number(Setting setting, double lowest, double highest, double fallback);

/**
   Return a text that fits on one line, at most `longest` bytes of it.

   @return The text, or NULL if the setting is absent or at fault.
*/
const char*
value_text(Setting setting, size_t longest);

/// Copy a text of less than `size` bytes; `buffer` is left as it is if the
/// setting is absent or at fault.
void
value_copy(Setting setting, char* buffer, size_t size);

/// Return which of `n_words` words a text is; others are a fault that names the
/// nearest, or all if none is near.
unsigned
value_choice(Setting            setting,
             const char* const* words,
             unsigned           n_words,
             unsigned           fallback);

/// Return whether something is so, written `true` or `false`.
bool
value_bool(Setting setting, bool fallback);

/// Find the MIDI key, 0..127, of a number or a name as value_pitch() knows
/// them; false if it is none.
bool
value_find_pitch(const char* text, uint8_t* pitch);

/// Write the name of a MIDI key as value_pitch() reads it, with sharps: `F#4`;
/// return `text`.
const char*
value_pitch_text(unsigned pitch, char text[PITCH_TEXT_CAPACITY]);

/// Return a pitch as a MIDI key, 0..127, written as such or by its name, `C4`
/// for 60 (scientific pitch notation).
uint8_t
value_pitch(Setting setting, uint8_t fallback);

/// Add a text in quotes, as a settings file has it.
void
value_add_quoted(Text* text, const char* words, size_t length);

#endif // CORE_SETTINGS_VALUE_H
