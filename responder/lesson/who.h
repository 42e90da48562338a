/// @file responder/lesson/who.h Who plays, and what is known of them.

#ifndef RESPONDER_LESSON_WHO_H
#define RESPONDER_LESSON_WHO_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "profiles/journal/journal.h"
#include "profiles/learner/learner.h"
#include "profiles/learner/people.h"

#include <stdbool.h>

typedef struct {
  Person        person; ///< Of meaning if has_place
  bool          has_place;
  bool          is_there; ///< Something is kept of this person
  Learner       learner;  ///< With the choices as they are for them
  bool          has_stand;
  JournalStand  stand;  ///< Of meaning if has_stand
  JournalHabits habits; ///< Zeroed if nothing is known
  bool          has_bad_journal;
  Fault         journal_fault; ///< Of meaning if has_bad_journal
} Who;

/// Return a learner of whom nothing is known but the name, with the choices of
/// everybody.
Learner
who_plain(const char* name, const Choices* choices);

/**
   Find who plays. Nothing is made.

   @param[out] who Written if the person is found, even if settings or journal
   cannot be read: those are then as if they said nothing. A journal that cannot
   be read is no failure: who keeps nothing can play without it.
   @param id Who must be there, but for PEOPLE_USUAL_ID, who need not be; NULL:
   nobody.
   @param choices What holds for everybody, as choices_load() has it.
   @return STATUS_OK; STATUS_MISSING or STATUS_RANGE if there is no such person;
   else settings cannot be read; all with faults noted.
*/
MUST_USE Status
who_find(Who* who, const char* id, const Choices* choices, Faults* faults);

/// Look again whether something is kept of who plays, and where they stand: a
/// session may have changed it. No settings are read.
void
who_look(Who* who);

/**
   Open the journal of who plays; folder, settings and journal are made if they
   are missing.

   @param[out] journal Written on success; give it to journal_close().
   @return STATUS_OK, or the status of what failed with the fault written.
*/
MUST_USE Status
who_journal(const Who* who, Journal** journal, Fault* fault);

#endif // RESPONDER_LESSON_WHO_H
