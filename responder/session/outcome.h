/// @file responder/session/outcome.h Whether a turn of the player's came off,
/// against the rung that they stand on.

#ifndef RESPONDER_SESSION_OUTCOME_H
#define RESPONDER_SESSION_OUTCOME_H

#include "profiles/ladder/ladder.h"
#include "responder/hear/phrase.h"
#include "responder/session/goal.h"

#include <stdbool.h>

enum { OUTCOME_TEXT_CAPACITY = 128, N_OUTCOME_REASONS = 5 };

/// What a turn is judged against.
typedef struct {
  double        spread_ms; ///< The learner's usual timing error
  bool          is_lost;   ///< The player's place was lost
  const Phrase* said;      ///< What the partner said last; NULL: nothing yet
  bool          is_return; ///< An idea of this session came back
  Goal          goal;      ///< Of the way of playing; GOAL_NONE: none
  GoalView      against;   ///< ... and what it is held against
} OutcomeView;

/// What came off; zeroed, the turn was not judged.
typedef struct {
  bool is_judged; ///< A turn without notes is not
  bool landed;    ///< Ended on the root or a chord tone
  bool in_time;   ///< For this learner
  bool is_led;    ///< Notes of chord and scale, and others that resolve
  bool has_space;
  bool connected; ///< With what the partner said
  Goal goal;      ///< If there was one, it alone decides
  Miss miss;      ///< ... by what was missing
} Outcome;

/// Judge a turn.
Outcome
outcome_judge(const Phrase* phrase, const OutcomeView* view);

/// Whether all came off.
bool
outcome_succeeds(const Outcome* outcome);

/// Whether it tells of the rung. By a goal of a way of playing it does not; nor
/// where nothing is missing but that it takes up what was said, which is no
/// easier on another rung.
bool
outcome_tells_of_rung(const Outcome* outcome);

/// Return what a turn can be missing, as outcome_text() has it: `did not land`.
/// @param index Below N_OUTCOME_REASONS.
const char*
outcome_reason(unsigned index);

/// Say in a sentence what came off, or what did not; empty if it was not
/// judged. Return `text`.
const char*
outcome_text(const Outcome* outcome, char text[OUTCOME_TEXT_CAPACITY]);

#endif // RESPONDER_SESSION_OUTCOME_H
