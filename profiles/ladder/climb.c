#include "profiles/ladder/climb.h"

#include "profiles/ladder/staircase.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

// How far a budget must be above the rungs to climb one: half a rung more than
// the rung costs, so that chance does not carry it up and down; how soon
// failures are met; how many turns a session or a rung gets before the budget
// takes one; and what easing may leave in the budget above that, to be
// climbed again. Common practice, no source.
static const double   room_to_climb    = 1.5;
static const unsigned failures_to_ease = 3;
static const unsigned turns_to_ease    = 4;
static const double   room_of_eased    = 2.0;
static const double   room_when_found  = 0.5;

// How far beyond what a learner plays their place is looked for, in rungs
static const double reach_when_found = 2.0;

// How much a turn weighs in what is known of a skill
static const double skill_weight = 0.1;

static unsigned
highest(const ClimbPlan* const plan, const unsigned dimension)
{
  const unsigned rungs = dimension_rungs((Dimension)dimension);
  const unsigned cap   = plan->caps.level[dimension];
  return cap && cap < rungs ? cap : rungs;
}

static bool
may_climb(const Climb* const     climb,
          const ClimbPlan* const plan,
          const unsigned         dimension)
{
  return !plan->pins.level[dimension] &&
         climb->rung.level[dimension] < highest(plan, dimension);
}

static bool
may_ease(const Climb* const     climb,
         const ClimbPlan* const plan,
         const unsigned         dimension)
{
  return !plan->pins.level[dimension] && climb->rung.level[dimension] > 1;
}

/// Return how far up its ladder the learner stands, 0..1.
static double
share_of_rung(const Climb* const climb, const unsigned dimension)
{
  return climb->rung.level[dimension] /
         (double)dimension_rungs((Dimension)dimension);
}

/// Return how far up the learner is known to play; where nothing is known, how
/// far up the learner stands.
static double
share_of_skill(const Climb* const climb, const unsigned dimension)
{
  const double level = climb->skill.level[dimension];
  return level > 0.0 ? level / dimension_rungs((Dimension)dimension)
                     : share_of_rung(climb, dimension);
}

/// Return how strong a learner is in a dimension, 0..1: by where they stand on
/// its ladder and what they are known to play.
static double
strength_in(const Climb* const climb, const Dimension dimension)
{
  return (share_of_rung(climb, dimension) + share_of_skill(climb, dimension)) /
         2.0;
}

/// Find the weakest dimension that may climb; N_DIMENSIONS if none may.
static unsigned
weakest(const Climb* const climb, const ClimbPlan* const plan)
{
  unsigned found = N_DIMENSIONS;
  double   least = 0.0;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const double strength = strength_in(climb, (Dimension)d);
    if (may_climb(climb, plan, d) &&
        (found == N_DIMENSIONS || strength < least)) {
      found = d;
      least = strength;
    }
  }
  return found;
}

/// Find what to ease: what climbed last, else what stands furthest above the
/// skill, of equals the highest; N_DIMENSIONS if nothing may be eased.
static unsigned
hardest(const Climb* const climb, const ClimbPlan* const plan)
{
  const unsigned last = climb->last_climbed;
  if (last && may_ease(climb, plan, last - 1)) {
    return last - 1;
  }
  unsigned found    = N_DIMENSIONS;
  double   most     = 0.0;
  double   most_far = 0.0;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const double share = share_of_rung(climb, d);
    const double above = share - share_of_skill(climb, d);
    if (may_ease(climb, plan, d) && (found == N_DIMENSIONS || above > most ||
                                     (!(above < most) && share > most_far))) {
      found    = d;
      most     = above;
      most_far = share;
    }
  }
  return found;
}

/// Return the least that the rungs can sum to.
static unsigned
lowest_sum(const ClimbPlan* const plan)
{
  unsigned sum = 0;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    sum += plan->pins.level[d] ? plan->pins.level[d] : 1U;
  }
  return sum;
}

/// Return how far the budget may be ahead of the rungs.
static double
highest_budget(const Climb* const climb)
{
  return climb_sum(climb->rung) + room_to_climb + room_of_eased;
}

/// Return how the budget may move in one turn. Within these bounds it counts
/// successes and failures and nothing else: only then the staircase settles at
/// its target (Kaernbach 1991). Easing at once moves the rungs, not the budget;
/// if it took from the budget too, the rate would come out above the target, by
/// .018 at .7071.
static Staircase
staircase_of(const Climb* const climb, const ClimbPlan* const plan)
{
  const unsigned sum = climb_sum(climb->rung);
  return (Staircase){
    .success_step = plan->success_step,
    .target       = plan->target,
    .floor        = sum > lowest_sum(plan) ? sum - 1.0 : sum,
    .ceiling      = highest_budget(climb),
  };
}

static ClimbReason
climb_one(Climb* const           climb,
          const ClimbPlan* const plan,
          Dimension* const       moved)
{
  const unsigned dimension = weakest(climb, plan);
  if (dimension == N_DIMENSIONS) {
    return CLIMB_STAYS;
  }
  ++climb->rung.level[dimension];
  climb->climbs_no_more = true;
  climb->last_climbed   = dimension + 1;
  *moved                = (Dimension)dimension;
  return CLIMB_UP;
}

static ClimbReason
ease_one(Climb* const           climb,
         const ClimbPlan* const plan,
         const ClimbReason      reason,
         Dimension* const       moved)
{
  const unsigned dimension = hardest(climb, plan);
  if (dimension == N_DIMENSIONS) {
    return CLIMB_STAYS;
  }
  --climb->rung.level[dimension];
  *moved = (Dimension)dimension;
  return reason;
}

/// Whether as much came off since the last move, or in this session, as makes
/// up for a failure: nothing is climbed by an old budget alone.
static bool
has_earned(const Climb* const climb, const ClimbPlan* const plan)
{
  const double target = plan->target;
  return climb->n_successes * (1.0 - target) >= target - 1e-9;
}

static ClimbReason
move_rung(Climb* const           climb,
          const ClimbPlan* const plan,
          Dimension* const       moved)
{
  const unsigned sum = climb_sum(climb->rung);
  if (climb->failures >= failures_to_ease) {
    climb->failures       = 0;
    climb->climbs_no_more = true;
    return ease_one(climb, plan, CLIMB_DOWN_AT_ONCE, moved);
  }
  if (climb->budget < sum && climb->n_turns >= turns_to_ease) {
    return ease_one(climb, plan, CLIMB_DOWN, moved);
  }
  return climb->budget >= sum + room_to_climb && !climb->climbs_no_more &&
             has_earned(climb, plan)
           ? climb_one(climb, plan, moved)
           : CLIMB_STAYS;
}

// Finding the place

/// Return a plan that leads no further than a learner is known to reach; what
/// is not heard goes as far as what is heard best.
static ClimbPlan
within_reach(const Climb* const climb, const ClimbPlan* const plan)
{
  ClimbPlan within = *plan;
  double    best   = 0.0;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    best = fmax(best, climb->skill.level[d]);
  }
  for (unsigned d = 0; d < N_DIMENSIONS && best > 0.0; ++d) {
    const double level =
      climb->skill.level[d] > 0.0 ? climb->skill.level[d] : best;
    const unsigned reach = (unsigned)ceil(level + reach_when_found);
    const unsigned most  = highest(plan, d);
    within.caps.level[d] = (uint8_t)(reach < most ? reach : most);
  }
  return within;
}

static void
step_up(Climb* const climb, const ClimbPlan* const plan, unsigned rungs)
{
  const ClimbPlan within = within_reach(climb, plan);
  for (; rungs > 0; --rungs) {
    const unsigned dimension = weakest(climb, &within);
    if (dimension < N_DIMENSIONS) {
      ++climb->rung.level[dimension];
    }
  }
}

static void
step_down(Climb* const climb, const ClimbPlan* const plan, unsigned rungs)
{
  climb->last_climbed = 0;
  for (; rungs > 0; --rungs) {
    const unsigned dimension = hardest(climb, plan);
    if (dimension < N_DIMENSIONS) {
      --climb->rung.level[dimension];
    }
  }
}

/// Go up or down by the step, which a failure halves. The budget has what a
/// new learner has.
static ClimbReason
find_place(Climb* const climb, const ClimbPlan* const plan, const bool success)
{
  Finding* const finding = &climb->finding;
  const unsigned before  = climb_sum(climb->rung);
  if (success) {
    step_up(climb, plan, finding->step);
  } else {
    step_down(climb, plan, finding->step);
    finding->step /= 2;
  }
  --finding->turns;
  finding->step         = finding->turns ? finding->step : 0;
  climb->budget         = climb_budget_at(climb->rung);
  climb->failures       = 0;
  climb->climbs_no_more = !finding->step;
  return climb_sum(climb->rung) == before ? CLIMB_STAYS : CLIMB_FINDS;
}

Finding
climb_finding(const unsigned n_turns, const unsigned n_failures)
{
  const unsigned step =
    n_failures < 8 ? (unsigned)FINDING_STEP >> n_failures : 0;
  return step && n_turns < FINDING_TURNS
           ? (Finding){(uint8_t)step, (uint8_t)(FINDING_TURNS - n_turns)}
           : (Finding){0};
}

bool
climb_has_plan(const ClimbPlan* const plan)
{
  return plan->success_step > 0.0;
}

unsigned
climb_sum(const Rung rung)
{
  unsigned sum = 0;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    sum += rung.level[d];
  }
  return sum;
}

double
climb_budget_at(const Rung rung)
{
  return climb_sum(rung) + room_when_found;
}

Climb
climb_begin(const ClimbPlan* const plan,
            const Rung             rung,
            const double           budget,
            const Skill            skill)
{
  Climb climb = {.rung = rung, .skill = skill, .finding = plan->finding};
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    uint8_t* const level = &climb.rung.level[d];
    const unsigned most  = highest(plan, d);
    *level               = plan->pins.level[d] ? plan->pins.level[d]
                           : *level > most     ? (uint8_t)most
                                               : *level;
  }
  const double least = climb_sum(climb.rung);
  const double most  = highest_budget(&climb);
  climb.budget       = budget < least ? least : budget > most ? most : budget;
  return climb;
}

Dimension
climb_weakest(const Climb* const climb, const ClimbPlan* const plan)
{
  unsigned found = weakest(climb, plan);
  if (found == N_DIMENSIONS) {
    found = 0;
    for (unsigned d = 1; d < N_DIMENSIONS; ++d) {
      const double strength = strength_in(climb, (Dimension)d);
      found = strength < strength_in(climb, (Dimension)found) ? d : found;
    }
  }
  return (Dimension)found;
}

Dimension
climb_strongest(const Climb* const climb)
{
  unsigned found = 0;
  for (unsigned d = 1; d < N_DIMENSIONS; ++d) {
    const double strength = strength_in(climb, (Dimension)d);
    found = strength > strength_in(climb, (Dimension)found) ? d : found;
  }
  return (Dimension)found;
}

ClimbMove
climb_turn(Climb* const climb, const ClimbPlan* const plan, const bool success)
{
  assert(climb_has_plan(plan));
  const bool finds = climb->finding.step > 0;
  if (!finds) {
    const Staircase staircase = staircase_of(climb, plan);
    climb->budget   = staircase_step(&staircase, climb->budget, success);
    climb->failures = success ? 0 : climb->failures + 1;
  }
  climb->n_turns += 1;
  climb->n_successes += success;

  ClimbMove move = {.target      = plan->target,
                    .n_turns     = climb->n_turns,
                    .n_successes = climb->n_successes};
  move.reason    = finds ? find_place(climb, plan, success)
                         : move_rung(climb, plan, &move.dimension);
  move.rung      = climb->rung;
  move.budget    = climb->budget;
  if (move.reason != CLIMB_STAYS) {
    climb->n_turns     = 0;
    climb->n_successes = 0;
  }
  return move;
}

void
climb_learn(Climb* const climb, const Rung heard)
{
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    double* const skill = &climb->skill.level[d];
    const double  level = heard.level[d];
    if (level > 0.0) {
      *skill = *skill > 0.0 ? *skill + skill_weight * (level - *skill) : level;
    }
  }
}

const char*
climb_reason_name(const ClimbReason reason)
{
  static const char* const names[] = {
    [CLIMB_STAYS]        = "stays",
    [CLIMB_UP]           = "up",
    [CLIMB_DOWN]         = "down",
    [CLIMB_DOWN_AT_ONCE] = "down at once",
    [CLIMB_FINDS]        = "finds",
  };
  return names[reason];
}

const char*
climb_text(const ClimbMove* const move, char text[CLIMB_TEXT_CAPACITY])
{
  const unsigned    level = move->rung.level[move->dimension];
  const char* const name  = dimension_name(move->dimension);
  text[0]                 = '\0';
  switch (move->reason) {
    case CLIMB_STAYS:
      break;
    case CLIMB_UP:
      (void)snprintf(text,
                     CLIMB_TEXT_CAPACITY,
                     "Up to %s %u: %u of %u turns came off, and %s has the "
                     "most to gain.",
                     name,
                     level,
                     move->n_successes,
                     move->n_turns,
                     name);
      break;
    case CLIMB_DOWN:
      (void)snprintf(text,
                     CLIMB_TEXT_CAPACITY,
                     "Back to %s %u: %u of %u turns came off, where %.0f in a "
                     "hundred are meant to.",
                     name,
                     level,
                     move->n_successes,
                     move->n_turns,
                     100.0 * move->target);
      break;
    case CLIMB_DOWN_AT_ONCE:
      (void)snprintf(text,
                     CLIMB_TEXT_CAPACITY,
                     "Back to %s %u at once: three turns in a row did not come "
                     "off.",
                     name,
                     level);
      break;
    case CLIMB_FINDS:
      (void)snprintf(text,
                     CLIMB_TEXT_CAPACITY,
                     "Finding your place: notes %u, rhythm %u, shape "
                     "%u, ornament %u.",
                     move->rung.level[DIMENSION_NOTES],
                     move->rung.level[DIMENSION_RHYTHM],
                     move->rung.level[DIMENSION_SHAPE],
                     move->rung.level[DIMENSION_ORNAMENT]);
      break;
  }
  return text;
}

bool
climb_text_is_down(const char* const text)
{
  static const char back[] = "Back to "; // As climb_text() begins
  return strncmp(text, back, sizeof(back) - 1) == 0;
}
