#include "profiles/ladder/staircase.h"

#include <assert.h>

static double
failure_step(const Staircase* const staircase)
{
  assert(staircase->target > 0.0 && staircase->target < 1.0);
  return staircase->success_step * staircase->target /
         (1.0 - staircase->target);
}

double
staircase_step(const Staircase* const staircase,
               const double           level,
               const bool             success)
{
  const double moved =
    success ? level + staircase->success_step : level - failure_step(staircase);
  return moved < staircase->floor     ? staircase->floor
         : moved > staircase->ceiling ? staircase->ceiling
                                      : moved;
}
