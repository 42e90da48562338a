/// @file tests/unit/ladder/learners.h Simulated learners: a logistic curve of
/// success over difficulty, of known threshold and slope.

#ifndef TESTS_UNIT_LADDER_LEARNERS_H
#define TESTS_UNIT_LADDER_LEARNERS_H

#include "core/rng.h"

#include <math.h>
#include <stdbool.h>

typedef struct {
  double threshold; ///< Difficulty met half of the time
  double slope;     ///< Above 0; a unit of difficulty costs as many logits
} SimulatedLearner;

static inline double
learner_chance(const SimulatedLearner learner, const double difficulty)
{
  return 1.0 / (1.0 + exp(learner.slope * (difficulty - learner.threshold)));
}

static inline bool
learner_succeeds(const SimulatedLearner learner,
                 const double           difficulty,
                 Rng* const             rng)
{
  return rng_unit(rng) < learner_chance(learner, difficulty);
}

/// Return the difficulty that a learner meets at a rate.
static inline double
learner_level(const SimulatedLearner learner, const double rate)
{
  return learner.threshold - log(rate / (1.0 - rate)) / learner.slope;
}

#endif // TESTS_UNIT_LADDER_LEARNERS_H
