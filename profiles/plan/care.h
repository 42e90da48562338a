/// @file profiles/plan/care.h The usual caution, in short; README says it at
/// length.

#ifndef PROFILES_PLAN_CARE_H
#define PROFILES_PLAN_CARE_H

/// Return one sentence.
const char*
care_text(void);

#endif // PROFILES_PLAN_CARE_H
