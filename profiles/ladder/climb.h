/// @file profiles/ladder/climb.h How a learner's rungs move, turn by turn.
///
/// A budget, in rungs, moves on a weighted up-down staircase; the four rungs
/// sum to at most as much. Slowly up: when the budget has room for a rung and a
/// half more, and in this session successes made up for a failure, one rung is
/// climbed, and no other in the same session. Quickly down: when the budget no
/// longer pays for the rungs and four turns or more were judged on them in this
/// session, or at once when three turns in a row fail; the
/// budget then stays, and nothing more is climbed in this session. The weakest
/// dimension climbs; what climbed last is eased first.
///
/// Before that, a new learner's place is found by larger steps, as thresholds
/// are in psychophysics: up by as many rungs after each turn that came off, and
/// down after each that did not, from where on the step is half as large; in no
/// dimension by more than two rungs beyond what the learner is heard to play
/// (Taylor & Creelman 1967, J. Acoust. Soc. Am. 41, 782-787; Levitt 1971, J.
/// Acoust. Soc. Am. 49, 467-477: both from memory).

#ifndef PROFILES_LADDER_CLIMB_H
#define PROFILES_LADDER_CLIMB_H

#include "profiles/ladder/ladder.h"

#include <stdbool.h>

enum { CLIMB_TEXT_CAPACITY = 160 };

enum {
  FINDING_STEP  = 4,  ///< Rungs, at first
  FINDING_TURNS = 12, ///< Judged, at most
};

/// How far the finding of a learner's place is; zeroed, it is found.
typedef struct {
  uint8_t step;  ///< Rungs that the next turn leads up or down
  uint8_t turns; ///< That are left
} Finding;

/// What a teacher sets; zeroed, there is no plan and nothing moves.
typedef struct {
  double  success_step; ///< Rungs of budget a success is worth; 0: no plan
  double  target;       ///< Share of turns meant to succeed, 0.5..0.95
  Rung    caps;         ///< As far as each may climb; 0: no cap
  Rung    pins;         ///< Where each is held; 0: it may move
  Finding finding;      ///< Of the place, when the session begins
} ClimbPlan;

/// What a learner is known to do in each dimension, in rungs; 0: not known.
typedef struct {
  double level[N_DIMENSIONS];
} Skill;

typedef enum {
  CLIMB_STAYS,
  CLIMB_UP,           ///< The budget has room
  CLIMB_DOWN,         ///< The budget no longer pays for the rungs
  CLIMB_DOWN_AT_ONCE, ///< Three turns in a row failed
  CLIMB_FINDS         ///< Up or down by several, to find the place
} ClimbReason;

/// Where a learner stands within a session.
typedef struct {
  Rung rung;
  /// At least what the rungs sum to, or for a few turns one less
  double   budget;
  Skill    skill;
  unsigned failures;     ///< Running
  unsigned n_turns;      ///< Judged since the last move
  unsigned n_successes;  ///< Of these
  unsigned last_climbed; ///< A Dimension + 1; 0: none in this session
  Finding  finding;
  bool     climbs_no_more; ///< In this session: it did, or was eased at once
} Climb;

/// What a turn did to the rungs, and why.
typedef struct {
  ClimbReason reason;
  Dimension   dimension; ///< Of meaning if it moved
  Rung        rung;      ///< After it
  double      budget;    ///< After it
  double      target;
  unsigned    n_turns; ///< Judged since the move before, this one too
  unsigned    n_successes;
} ClimbMove;

/// Return how far the finding of a place is after some judged turns.
Finding
climb_finding(unsigned n_turns, unsigned n_failures);

/// Whether there is a plan.
bool
climb_has_plan(const ClimbPlan* plan);

/// Return what the rungs sum to.
unsigned
climb_sum(Rung rung);

/// Return the budget of whoever begins on these rungs, or was found there: with
/// room for two turns that do not come off at a steady pace.
double
climb_budget_at(Rung rung);

/**
   Return where a session begins.

   @param rung Where the learner stood; caps and pins are put upon it.
   @param budget In rungs; brought to between what the rungs sum to and three
   and a half more.
*/
Climb
climb_begin(const ClimbPlan* plan, Rung rung, double budget, Skill skill);

/// Return what is to climb next: the weakest dimension that may; where none
/// may, the weakest.
Dimension
climb_weakest(const Climb* climb, const ClimbPlan* plan);

/// Return the dimension that the learner is best in.
Dimension
climb_strongest(const Climb* climb);

/// Judge a turn: move the budget, and the rungs by one at most.
ClimbMove
climb_turn(Climb* climb, const ClimbPlan* plan, bool success);

/// Learn from the rungs heard in a turn that succeeded; a rung of 0 in a
/// dimension tells nothing.
void
climb_learn(Climb* climb, Rung heard);

/// Return the name of a reason: `stays`, `up`, `down`, `down at once`, `finds`.
const char*
climb_reason_name(ClimbReason reason);

/// Say a move in a sentence; empty if it stays. Return `text`.
const char*
climb_text(const ClimbMove* move, char text[CLIMB_TEXT_CAPACITY]);

/// Whether a text is what climb_text() writes of a step down.
bool
climb_text_is_down(const char* text);

#endif // PROFILES_LADDER_CLIMB_H
