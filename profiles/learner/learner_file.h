/// @file profiles/learner/learner_file.h A learner as a file, for a teacher's
/// hand.
///
/// `learner.cfg` may say `name`, `split`, `lowest`, `highest`, `hand_span`,
/// `tempo`, `caps`, `pins`, `target`, `pace` and `goals`. As it is written here
/// it says of each what it does.

#ifndef PROFILES_LEARNER_LEARNER_FILE_H
#define PROFILES_LEARNER_LEARNER_FILE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"
#include "profiles/learner/learner.h"

enum { LEARNER_TEXT_CAPACITY = 8192 };

/**
   Read a learner from settings that are open; what they do not say stays as it
   is in `learner`.

   @return STATUS_OK, or STATUS_SYNTAX with the faults noted.
*/
MUST_USE Status
learner_file_read(Learner* learner, Settings* settings);

/**
   Load a learner from a file, over what is in `learner`.

   @return STATUS_OK, or what settings_open() or learner_file_read() returned.
*/
MUST_USE Status
learner_file_load(Learner* learner, const char* path, Faults* faults);

/// Write a learner as learner_file_read() reads it; return `text`.
const char*
learner_file_text(const Learner* learner, char text[LEARNER_TEXT_CAPACITY]);

/**
   Save a learner to a file that only its owner may read.

   @return STATUS_OK, or STATUS_SYSTEM with the fault written and what was there
   before left as it was.
*/
MUST_USE Status
learner_file_save(const Learner* learner, const char* path, Fault* fault);

#endif // PROFILES_LEARNER_LEARNER_FILE_H
