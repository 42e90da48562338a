/// @file responder/setup/in_force.h Every choice in force, its value, and where
/// it comes from.

#ifndef RESPONDER_SETUP_IN_FORCE_H
#define RESPONDER_SETUP_IN_FORCE_H

#include "core/attributes.h"
#include "profiles/choices/choices.h"
#include "responder/setup/setup.h"

/// Whether a choice is told of: not the rung as a whole, whose parts are, nor
/// the sound of the drums, which has no program.
bool
in_force_is_told(Choice choice);

/// Write a value as a person would, without its unit; `none` for an empty text.
/// Return `text`.
/// @param setup Loaded.
const char*
in_force_text(const Setup* setup, Choice choice, char text[ROW_TEXT_CAPACITY]);

/// Return a value as it stands in JSON; Jansson's, owned by the caller. NULL
/// when there is no memory.
MUST_USE struct json_t*
in_force_value(const Setup* setup, Choice choice);

/**
   Return them as JSON, `"format": "barter-settings", "version": 1`: `learner`
   and a list of `choices`, each with its `name`, `value`, `unit`, `from`,
   `line` of that file, and what else it might be, `least` and `most` or
   `words`; and `help`. To be freed; NULL when there is no memory.

   @param learner The name to show; NULL: nobody plays.
*/
MUST_USE char*
in_force_report(const Setup* setup, const char* learner);

#endif // RESPONDER_SETUP_IN_FORCE_H
