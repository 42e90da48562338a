/// @file responder/app/learner_change.h A learner's file changed in words.

#ifndef RESPONDER_APP_LEARNER_CHANGE_H
#define RESPONDER_APP_LEARNER_CHANGE_H

#include "profiles/learner/people.h"
#include "responder/app/options.h"

/// Set what the operands after the ID say, all of it or nothing, and answer by
/// what is so now. Return the exit status.
int
learner_change(const Options* options, const Person* person);

#endif // RESPONDER_APP_LEARNER_CHANGE_H
