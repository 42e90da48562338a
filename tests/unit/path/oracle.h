/// @file oracle.h The rules of a path, written once more from path.h's text.
///
/// Lines are given as indices of pitches here, not as keys.

#ifndef TESTS_PATH_ORACLE_H
#define TESTS_PATH_ORACLE_H

#include "core/music/path.h"

#include <stdbool.h>
#include <stdlib.h>

/// Return how a line came to a place.
static inline PathCame
oracle_came(const PathProblem* const problem,
            const unsigned* const    line,
            const unsigned           place)
{
  if (place == 0 || problem->begins[place]) {
    return PATH_CAME_FIRST;
  }
  const int  d    = (int)line[place] - (int)line[place - 1];
  const bool up   = d > 0;
  const int  size = abs(d);
  return size == 0   ? PATH_CAME_REPEAT
         : size <= 2 ? (up ? PATH_CAME_STEP_UP : PATH_CAME_STEP_DOWN)
         : size <= 4 ? (up ? PATH_CAME_SKIP_UP : PATH_CAME_SKIP_DOWN)
                     : (up ? PATH_CAME_LEAP_UP : PATH_CAME_LEAP_DOWN);
}

/// Return the factor that a place adds to the weight of a line.
static inline double
oracle_factor(const PathProblem* const problem,
              const unsigned* const    line,
              const unsigned           place)
{
  const PathPitch to = problem->pitches[place][line[place]];
  if (place == 0) {
    return to.weight;
  }

  const PathPitch from = problem->pitches[place - 1][line[place - 1]];
  const int       d    = (int)line[place] - (int)line[place - 1];
  const bool      step = abs(d) == 1 || abs(d) == 2;
  if (abs(d) > 12 || (from.leave == PATH_LEAVE_BY_STEP && !step) ||
      (from.leave == PATH_LEAVE_TO_REST && !(step && to.is_rest))) {
    return 0.0;
  }
  const double left = from.leave >= PATH_LEAVE_BY_WAYS
                        ? problem->ways[from.leave - PATH_LEAVE_BY_WAYS][12 + d]
                        : 1.0;
  const double entered =
    to.enter > 0 ? problem->ways[to.enter - 1][12 + d] : 1.0;
  const double habit =
    problem->begins[place]
      ? 1.0
      : problem->habits[oracle_came(problem, line, place - 1)][12 + d];
  return (double)to.weight * problem->intervals[place][12 + d] * left *
         entered * habit;
}

static inline double
oracle_weight(const PathProblem* const problem, const unsigned* const line)
{
  double weight = 1.0;
  for (unsigned place = 0; place < problem->n_notes; ++place) {
    weight *= oracle_factor(problem, line, place);
  }
  return weight;
}

/// Return the message of a line's way to a place, times the weights of the
/// step to it; a message holds its own pitch's weight already.
static inline double
oracle_worth(const PathSolver* const  solver,
             const PathProblem* const problem,
             const unsigned* const    line,
             const unsigned           place)
{
  const float  own    = problem->pitches[place][line[place]].weight;
  const double factor = oracle_factor(problem, line, place);
  return own > 0.0F ? factor / own *
                        solver->messages[place][line[place]]
                                        [oracle_came(problem, line, place)]
                    : 0.0;
}

/// Return the probability of a line that the messages stand for: at each
/// place, its worth beside that of all the pitches that might be there.
static inline double
oracle_chance(const PathSolver* const  solver,
              const PathProblem* const problem,
              const unsigned* const    line)
{
  double chance = 1.0;
  for (unsigned place = 0; place < problem->n_notes && chance > 0.0; ++place) {
    unsigned other[PATH_NOTE_CAPACITY];
    for (unsigned i = 0; i <= place; ++i) {
      other[i] = line[i];
    }
    double total = 0.0;
    for (unsigned pitch = 0; pitch < problem->n_pitches; ++pitch) {
      other[place] = pitch;
      total += oracle_worth(solver, problem, other, place);
    }
    chance *= oracle_worth(solver, problem, line, place) / total;
  }
  return chance;
}

/// Turn the keys of a drawn line into indices.
static inline void
oracle_indices(const PathProblem* const problem,
               const uint8_t* const     keys,
               unsigned* const          line)
{
  for (unsigned place = 0; place < problem->n_notes; ++place) {
    line[place] = keys[place] - problem->lowest;
  }
}

/// Make a problem in which every pitch, interval and habit weighs 1.
static inline void
oracle_plain(PathProblem* const problem,
             const unsigned     n_notes,
             const unsigned     n_pitches)
{
  *problem =
    (PathProblem){.n_notes = n_notes, .n_pitches = n_pitches, .lowest = 48};
  for (unsigned place = 0; place < PATH_NOTE_CAPACITY; ++place) {
    for (unsigned pitch = 0; pitch < PATH_PITCH_CAPACITY; ++pitch) {
      problem->pitches[place][pitch].weight = 1.0F;
    }
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->intervals[place][i] = 1.0F;
    }
  }
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = 1.0F;
    }
  }
}

/// Return 0 with a chance of `zero`, else a weight of 0.1..1.
static inline float
oracle_chance_weight(Rng* const rng, const double zero)
{
  return rng_unit(rng) < zero ? 0.0F : (float)(0.1 + 0.9 * rng_unit(rng));
}

/// Make a problem of chance weights, a share of them 0.
static inline void
oracle_random(PathProblem* const problem,
              Rng* const         rng,
              const unsigned     n_notes,
              const unsigned     n_pitches,
              const double       zero)
{
  oracle_plain(problem, n_notes, n_pitches);
  for (unsigned place = 0; place < n_notes; ++place) {
    problem->begins[place] = rng_below(rng, 6) == 0;
    for (unsigned pitch = 0; pitch < n_pitches; ++pitch) {
      const uint32_t leave = rng_below(rng, 5);
      problem->pitches[place][pitch] =
        (PathPitch){oracle_chance_weight(rng, zero),
                    leave == 0   ? PATH_LEAVE_BY_STEP
                    : leave == 1 ? PATH_LEAVE_TO_REST
                                 : PATH_LEAVE_FREE,
                    (uint8_t)rng_below(rng, 2),
                    (uint8_t)rng_below(rng, 3)};
      if (leave == 2) {
        problem->pitches[place][pitch].leave =
          (uint8_t)(PATH_LEAVE_BY_WAYS + rng_below(rng, PATH_WAYS));
      }
    }
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->intervals[place][i] = oracle_chance_weight(rng, zero);
    }
  }
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = oracle_chance_weight(rng, zero);
    }
  }
  for (unsigned way = 0; way < PATH_WAYS; ++way) {
    for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
      problem->ways[way][i] = oracle_chance_weight(rng, zero);
    }
  }
}

#endif // TESTS_PATH_ORACLE_H
