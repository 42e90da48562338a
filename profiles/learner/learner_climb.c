#include "profiles/learner/learner_climb.h"

// What a success is worth, in rungs: of a dozen turns that all come off, three
// tenths of a rung, six, or more than a whole one. Common practice, no source.
static const double success_steps[N_LEARNER_PACES] = {
  [LEARNER_GENTLE] = 0.025,
  [LEARNER_STEADY] = 0.05,
  [LEARNER_BRISK]  = 0.1,
};

ClimbPlan
learner_climb(const Learner* const learner)
{
  return (ClimbPlan){
    .success_step = success_steps[learner->pace],
    .target       = learner->target_rate,
    .caps         = learner->caps,
    .pins         = learner->pins,
  };
}
