/// @file profiles/learner/learner.h What a teacher sets for one person.
///
/// Learner is a plain value: copy it, compare it field by field.

#ifndef PROFILES_LEARNER_LEARNER_H
#define PROFILES_LEARNER_LEARNER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "profiles/ladder/ladder.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  LEARNER_NAME_CAPACITY = 64,
  LEARNER_GOALS         = 8,
  LEARNER_GOAL_CAPACITY = 160,
};

/// How quickly the ladder moves.
typedef enum { LEARNER_GENTLE, LEARNER_STEADY, LEARNER_BRISK } LearnerPace;

enum { N_LEARNER_PACES = 3 };

/// What is said of a learner, made by learner_plain().
typedef struct {
  char    name[LEARNER_NAME_CAPACITY]; ///< To show; never empty
  Choices choices;  ///< As they are for this person: with barter.cfg under
                    ///< what learner.cfg says, by CHOICE_BY_LEARNER
  Rung        caps; ///< As far as each dimension may climb; 0: no cap
  Rung        pins; ///< Where each dimension is held; 0: it may move
  double      target_rate; ///< Share of turns meant to succeed, 0.5..0.95
  LearnerPace pace;
  unsigned    n_goals;
  char        goals[LEARNER_GOALS][LEARNER_GOAL_CAPACITY];
} Learner;

/// What is set of a learner beside the choices and goals.
enum {
  LEARNER_ROW_NAME,
  LEARNER_ROW_TARGET,
  LEARNER_ROW_PACE,
  LEARNER_ROW_CAPS,                                   ///< ... by dimension
  LEARNER_ROW_PINS = LEARNER_ROW_CAPS + N_DIMENSIONS, ///< ... by dimension
  N_LEARNER_ROWS   = LEARNER_ROW_PINS + N_DIMENSIONS,
};

/// Return one of these rows, of a field of Learner.
/// @param index Below N_LEARNER_ROWS.
const Row*
learner_row(unsigned index);

/// Check whether a text can be a name: one line, neither empty nor too long.
/// @return STATUS_OK; STATUS_RANGE or STATUS_SYNTAX with the fault written.
MUST_USE Status
learner_check_name(const char* text, Fault* fault);

/// Return a learner of whom nothing is known but the name, which is cut if it
/// is too long; their choices are the plain ones.
Learner
learner_plain(const char* name);

/// Return the name of a pace: `steady`.
const char*
learner_pace_name(LearnerPace pace);

/// Return a rung as the teacher's caps and pins leave it.
Rung
learner_hold(const Learner* learner, Rung rung);

#endif // PROFILES_LEARNER_LEARNER_H
