/// @file responder/lesson/practised.h What a person practised, read out of
/// their journal.

#ifndef RESPONDER_LESSON_PRACTISED_H
#define RESPONDER_LESSON_PRACTISED_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/journal.h"
#include "profiles/learner/people.h"

/**
   Read what a person practised: nothing, if there is no journal.

   @param[out] totals Written on success; give it to journal_totals_free().
   @param[out] moves Written on success, and to be given to
   journal_moves_free(); NULL if nobody asks.
   @return STATUS_OK, or that of the journal with the fault written.
*/
MUST_USE Status
practised_read(JournalTotals* totals,
               JournalMoves*  moves,
               const Person*  person,
               Fault*         fault);

#endif // RESPONDER_LESSON_PRACTISED_H
