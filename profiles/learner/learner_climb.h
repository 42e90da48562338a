/// @file profiles/learner/learner_climb.h How a learner's rungs are to move, as
/// the teacher set it.

#ifndef PROFILES_LEARNER_LEARNER_CLIMB_H
#define PROFILES_LEARNER_LEARNER_CLIMB_H

#include "profiles/ladder/climb.h"
#include "profiles/learner/learner.h"

/// Return the plan by the learner's target, pace, caps and pins.
ClimbPlan
learner_climb(const Learner* learner);

#endif // PROFILES_LEARNER_LEARNER_CLIMB_H
