/// @file responder/lesson/desk.h A phrase developed: what to begin with, its
/// developments, and what is made of them.

#ifndef RESPONDER_LESSON_DESK_H
#define RESPONDER_LESSON_DESK_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/journal/journal.h"
#include "responder/ideas/develop.h"
#include "responder/lesson/opening.h"
#include "responder/lesson/who.h"
#include "responder/record/take.h"
#include "responder/session/session.h"
#include "responder/setup/setup.h"

#include <stdbool.h>
#include <stddef.h>

/// What lies on the table, kept in one piece; zeroed, nothing does.
typedef struct {
  Setup        setup;
  Opening      opening;
  Developments found;
  // Room to work in
  SayHistory  history; ///< Nothing was said yet
  DevelopWork work;
  Chart       bars; ///< Of the phrase alone
  TurnRecord  record;
} Desk;

/// Begin with the phrase at some bars of a take, or the first one in it.
/// @return STATUS_OK; else faults are noted.
MUST_USE Status
desk_take(Desk*          desk,
          const Choices* choices,
          const Take*    take,
          OpeningSpan    span,
          Faults*        faults);

/// Begin with an idea of the notebook, over the chart of the choices:
/// kept_own() chooses its own.
/// @param number Which of it, from 1.
/// @return STATUS_OK; else faults are noted.
MUST_USE Status
desk_kept(Desk*               desk,
          const Choices*      choices,
          const JournalIdeas* notebook,
          size_t              number,
          OpeningSpan         span,
          Faults*             faults);

/// Begin with the last phrase that the player played in the last session; where
/// there is none, with a new one.
/// @return STATUS_OK; else faults are noted.
MUST_USE Status
desk_last(Desk*          desk,
          const Choices* choices,
          const Who*     who,
          OpeningSpan    span,
          Faults*        faults);

/// Begin with a new phrase on the learner's rung.
/// @return STATUS_OK; else faults are noted.
MUST_USE Status
desk_suggest(Desk*          desk,
             const Choices* choices,
             OpeningSpan    span,
             Faults*        faults);

/// Lay an idea of the notebook over the chart of a desk that is set up; where
/// no bars are asked for and it is its own chart, where it stood. False if it
/// is damaged or in another meter.
bool
desk_lay_kept(Desk* desk, const JournalIdea* kept, OpeningSpan span);

/// Find up to so many developments of what it begins with.
void
desk_develop(Desk* desk, unsigned wanted);

/// Return how one of the developments found is to be practised; of two by the
/// same move each in its own way.
/// @param index Less than `found.n`.
const char*
desk_practise(const Desk* desk, unsigned index);

/// Return the report as text, to be freed; NULL when there is no memory.
MUST_USE char*
desk_report(Desk* desk);

/// Write the notation; STATUS_OK, or as notation_save().
MUST_USE Status
desk_notate(Desk* desk, const char* path, Fault* fault);

/// Engrave the same; STATUS_OK, or as notation_engrave().
MUST_USE Status
desk_engrave(Desk* desk, const char* path, Fault* fault);

#endif // RESPONDER_LESSON_DESK_H
