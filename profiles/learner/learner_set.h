/// @file profiles/learner/learner_set.h One setting of learner.cfg changed, and
/// all the rest of the file left as it is.

#ifndef PROFILES_LEARNER_LEARNER_SET_H
#define PROFILES_LEARNER_LEARNER_SET_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

/**
   Change one setting in the text of a learner.cfg.

   `tempo=90` takes the place of the line `tempo = ...;`, or of that line behind
   a `#`, else it comes last. A text needs no quotes, `target=75`, or `75 %`, is
   75 in a hundred, `caps="rhythm=4 notes=5"` and `goals="one; another"` hold
   several, `caps.rhythm=4` is one of these and leaves the others, and an empty
   value takes a setting out of force: it stays behind a `#`.

   @param text To be changed; owned: what it is on success may be another one.
   @param change `name=value`.
   @return STATUS_OK; STATUS_SYNTAX if it is no change or names no setting,
   STATUS_SYNTAX or STATUS_RANGE if a single value is not right, STATUS_MEMORY;
   with the fault written. Whether all of it is right together is seen when the
   text is read.
*/
MUST_USE Status
learner_set(char** text, const char* change, Fault* fault);

#endif // PROFILES_LEARNER_LEARNER_SET_H
