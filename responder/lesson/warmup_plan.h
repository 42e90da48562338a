/// @file responder/lesson/warmup_plan.h A day's warm-up, from what was set up.

#ifndef RESPONDER_LESSON_WARMUP_PLAN_H
#define RESPONDER_LESSON_WARMUP_PLAN_H

#include "profiles/plan/warmup.h"
#include "responder/setup/setup.h"

#include <stdint.h>

#define WARMUP_PLAN_MINUTES 10.0 ///< Unless others are wished for

/**
   Plan a warm-up: the same for all of a day, another for each person.

   @param setup Its rungs climb as the learner's do.
   @param id The person's.
   @param day Days since 1970-01-01.
*/
Warmup
warmup_plan(const Setup* setup, const char* id, int32_t day, double minutes);

#endif // RESPONDER_LESSON_WARMUP_PLAN_H
