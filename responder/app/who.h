/// @file responder/app/who.h Who plays, and what is known of them.

#ifndef RESPONDER_APP_WHO_H
#define RESPONDER_APP_WHO_H

#include "core/attributes.h"
#include "core/settings/defaults_file.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/journal/journal.h"
#include "profiles/learner/learner.h"
#include "profiles/learner/people.h"
#include "responder/app/options.h"

#include <stdbool.h>

typedef struct {
  Person        person; ///< Of meaning if has_place
  bool          has_place;
  bool          is_there; ///< Something is kept of this person
  Learner       learner;
  bool          has_stand;
  JournalStand  stand;  ///< Of meaning if has_stand
  JournalHabits habits; ///< Zeroed if nothing is known
  bool          has_bad_journal;
  Fault         journal_fault; ///< Of meaning if has_bad_journal
} Who;

/// Return a learner as barter.cfg leaves open what is not said of them.
Learner
who_plain(const char* name, const Defaults* defaults);

/**
   Find who plays: who is named by --learner, who must be there, else `me`, who
   need not be; nobody if the options are nobody's. Nothing is made.

   @param[out] who Written if the person is found, even if settings or journal
   cannot be read: those are then as if they said nothing. A journal that cannot
   be read is no failure: who keeps nothing can play without it.
   @return STATUS_OK; STATUS_MISSING or STATUS_RANGE if there is no such person;
   else settings cannot be read; all with faults noted.
*/
MUST_USE Status
who_find(Who*            who,
         const Options*  options,
         const Defaults* defaults,
         Faults*         faults);

/**
   Open the journal of who plays; folder, settings and journal are made if they
   are missing.

   @param[out] journal Written on success; give it to journal_close().
   @return STATUS_OK, or the status of what failed with the fault written.
*/
MUST_USE Status
who_journal(const Who* who, Journal** journal, Fault* fault);

#endif // RESPONDER_APP_WHO_H
