/// @file profiles/files/ladder_file.h The ladder as a file.
///
/// `ladder.cfg` says `notes`, `rhythm`, `shape` and `ornament`, each a list of
/// all its rungs from the lowest, each with its `words` and what it allows; and
/// `start` and `budget`. A rung allows at least what the one below it does.

#ifndef PROFILES_FILES_LADDER_FILE_H
#define PROFILES_FILES_LADDER_FILE_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"
#include "profiles/ladder/ladder.h"

/**
   Read a ladder from settings that are open.

   @param[out] ladder Of use on success only.
   @return STATUS_OK, or STATUS_SYNTAX with the faults noted.
*/
MUST_USE Status
ladder_file_read(Ladder* ladder, Settings* settings);

/**
   Load a ladder from a file.

   @param[out] ladder Of use on success only.
   @return STATUS_OK, or what settings_open() or ladder_file_read() returned.
*/
MUST_USE Status
ladder_file_load(Ladder* ladder, const char* path, Faults* faults);

#endif // PROFILES_FILES_LADDER_FILE_H
