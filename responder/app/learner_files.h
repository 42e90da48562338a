/// @file responder/app/learner_files.h A learner taken out of this machine and
/// brought into it.

#ifndef RESPONDER_APP_LEARNER_FILES_H
#define RESPONDER_APP_LEARNER_FILES_H

#include "profiles/learner/people.h"
#include "responder/app/options.h"

/// Write a person's export, or a table of the turns; the operands are ID and
/// file (`-` is standard output). Return the exit status.
int
learner_export(const Options* options, const Person* person);

/// Bring in an export; the operand is its file, the person is of no matter.
/// Return the exit status.
int
learner_import(const Options* options, const Person* person);

#endif // RESPONDER_APP_LEARNER_FILES_H
