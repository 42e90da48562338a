/// @file responder/app/learner_show.h People told of: who there is, and one of
/// them.

#ifndef RESPONDER_APP_LEARNER_SHOW_H
#define RESPONDER_APP_LEARNER_SHOW_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/learner/people.h"
#include "profiles/progress/progress.h"
#include "responder/app/options.h"

/// Sum up what a person practised: nothing, if there is no journal.
/// @return STATUS_OK, or that of the journal with the fault written.
MUST_USE Status
learner_sum_up(const Person* person, Progress* progress, Fault* fault);

/// Write a line about it.
void
learner_show_practice(const Progress* progress);

/// List everyone; the person is of no matter. Return the exit status.
int
learner_list(const Options* options, const Person* nobody);

/// Show one person. Return the exit status.
int
learner_show(const Options* options, const Person* person);

#endif // RESPONDER_APP_LEARNER_SHOW_H
