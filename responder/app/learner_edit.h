/// @file responder/app/learner_edit.h A learner's file in an editor.

#ifndef RESPONDER_APP_LEARNER_EDIT_H
#define RESPONDER_APP_LEARNER_EDIT_H

#include "profiles/learner/people.h"
#include "responder/app/options.h"

/// Let a draft be edited until it is good, and only then put it in the place of
/// learner.cfg; one at fault stays to be gone on with. Return the exit status.
int
learner_edit(const Options* options, const Person* person);

#endif // RESPONDER_APP_LEARNER_EDIT_H
