/// @file responder/tell/learners_tell.h The people who play in words.

#ifndef RESPONDER_TELL_LEARNERS_TELL_H
#define RESPONDER_TELL_LEARNERS_TELL_H

#include "profiles/learner/learner.h"
#include "profiles/progress/progress.h"
#include "responder/lesson/class.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/who.h"

#include <stdio.h>

/// Write everybody, a line each.
void
learners_tell_class(FILE* stream, const Class* all);

/// Write what is set for a person, and where they stand.
void
learners_tell_settings(FILE* stream, const Who* who);

/// Write a value that is set, as `90` of `tempo`.
void
learners_tell_value(FILE* stream, const Learner* learner, const char* name);

/// Write a line about what was practised.
void
learners_tell_practice(FILE* stream, const Progress* progress);

/// Write what bringing in a file changed.
void
learners_tell_gain(FILE* stream, const char* id, const LearnersGain* gain);

#endif // RESPONDER_TELL_LEARNERS_TELL_H
