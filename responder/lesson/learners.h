/// @file responder/lesson/learners.h The people who play, and what is kept of
/// them: brought in, taken out, summed up.

#ifndef RESPONDER_LESSON_LEARNERS_H
#define RESPONDER_LESSON_LEARNERS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/exchange/exchange.h"
#include "profiles/journal/journal.h"
#include "profiles/learner/learner.h"
#include "profiles/learner/people.h"
#include "profiles/progress/progress.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

/// Sum up what a person practised up to a day: nothing, if there is no journal.
/// @return STATUS_OK, or that of the journal with the fault written.
MUST_USE Status
learners_sum_up(Progress*     progress,
                const Person* person,
                int32_t       day,
                Fault*        fault);

/**
   Write all that is kept of a person.

   @param faults Where settings cannot be read they are left out, and why is
   noted here.
   @return STATUS_OK, or as exchange_write().
*/
MUST_USE Status
learners_export(FILE*         stream,
                const Person* person,
                Faults*       faults,
                Fault*        fault);

/// Write the turns of a person as comma-separated values; STATUS_OK, or that of
/// the journal with the fault written.
MUST_USE Status
learners_export_table(FILE* stream, const Person* person, Fault* fault);

/// A file that is to be brought in, before anything is changed; give it to
/// learners_import_free().
typedef struct {
  const char*  path;
  ExchangeHead head;
  Person       person;   ///< Whose it becomes
  bool         is_new;   ///< Who is not here yet
  bool         is_other; ///< Somebody else: it is to be asked for, since nobody
                         ///< can part them again
} LearnersImport;

/// What bringing it in changed.
typedef struct {
  JournalGain gain;
  bool        is_new;       ///< Who was not here before
  bool        has_settings; ///< Its settings were newer and are taken
  bool        keeps_own;    ///< ... were others, and those here stay
} LearnersGain;

/**
   Look whose a file is, and whose it would become: who is named, who it is
   about, else its own ID if that is free.

   @param id Who is named; NULL: nobody.
   @param[out] import Written on success only; the path outlives it.
   @return STATUS_OK; else the fault is written.
*/
MUST_USE Status
learners_import_look(LearnersImport* import,
                     const char*     path,
                     const char*     id,
                     Fault*          fault);

/**
   Bring it in, all of it or nothing. What is set of somebody else stays.

   @param watch Looks on, and may stop it; NULL: nobody does.
   @param[out] gain Written on success only.
   @return STATUS_OK; else the fault is written.
*/
MUST_USE Status
learners_import(const LearnersImport* import,
                const Watch*          watch,
                LearnersGain*         gain,
                Fault*                fault);

void
learners_import_free(LearnersImport* import);

/**
   Change what is set for a person, all of it or nothing; see learner_set().

   @param changes `n` of `name=value`.
   @return STATUS_OK; else faults are noted and nothing is changed.
*/
MUST_USE Status
learners_set(const Person*      person,
             const char* const* changes,
             unsigned           n,
             Faults*            faults);

#endif // RESPONDER_LESSON_LEARNERS_H
