/// @file profiles/ladder/staircase.h The weighted up-down staircase (Kaernbach
/// 1991, Perception & Psychophysics 49, 227-229).
///
/// A level that rises by a step after each success and falls by step p/(1 - p)
/// after each failure comes to rest where successes have the share p.

#ifndef PROFILES_LADDER_STAIRCASE_H
#define PROFILES_LADDER_STAIRCASE_H

#include <stdbool.h>

/// How a level moves; in whatever unit the level is.
typedef struct {
  double success_step; ///< Above 0
  double target;       ///< Share of successes aimed at, above 0 and below 1
  double floor;        ///< The level stays between these
  double ceiling;
} Staircase;

/// Return the level after a success or a failure.
double
staircase_step(const Staircase* staircase, double level, bool success);

#endif // PROFILES_LADDER_STAIRCASE_H
