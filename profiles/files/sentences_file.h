/// @file profiles/files/sentences_file.h What is said, from a settings file.
///
/// A file may have the groups and names of sentence_row(), each a list of
/// wordings; what it does not have stays as it is. No sentence stands twice,
/// and `{tone}` at most twice in one.

#ifndef PROFILES_FILES_SENTENCES_FILE_H
#define PROFILES_FILES_SENTENCES_FILE_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"
#include "profiles/sentences/sentences.h"

/**
   Read sentences from settings that are open, over what is in `sentences`.

   @param[out] sentences Of use on success only.
   @return STATUS_OK, or STATUS_SYNTAX with the faults noted.
*/
MUST_USE Status
sentences_file_read(Sentences* sentences, Settings* settings);

/**
   Load sentences from a file, over the built-in ones.

   @param[out] sentences On failure, the built-in ones.
   @return STATUS_OK, or what settings_open() or sentences_file_read() returned.
*/
MUST_USE Status
sentences_file_load(Sentences* sentences, const char* path, Faults* faults);

#endif // PROFILES_FILES_SENTENCES_FILE_H
