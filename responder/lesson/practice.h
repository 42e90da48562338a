/// @file responder/lesson/practice.h A session written into the journal as it
/// goes.

#ifndef RESPONDER_LESSON_PRACTICE_H
#define RESPONDER_LESSON_PRACTICE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/journal.h"
#include "responder/lesson/who.h"
#include "responder/session/session.h"
#include "responder/setup/setup.h"

/// A session under way: give it to practice_end().
typedef struct {
  Journal*     journal;
  JournalId    session;
  double       tempo_bpm;
  const Setup* setup;
  Best         best;        ///< Of what was said
  bool         has_said;    ///< The partner has
  Phrase       said;        ///< ... last
  JournalStand stand;       ///< Of the learner, as it moves
  bool         tells_stand; ///< Else the rungs were only tried: the learner
                            ///< stands where they stood
} Practice;

/**
   Begin: a person, journal and session are made as they are needed.

   @param kind `answer`, `trade`, `warmup`.
   @param setup Rungs that were asked for are only tried.
   @param[out] practice Written on success only.
   @return STATUS_OK, or the status of what failed with the fault written.
*/
MUST_USE Status
practice_begin(Practice*    practice,
               const Who*   who,
               const Setup* setup,
               const char*  kind,
               Fault*       fault);

/// Take note of a turn, and return it as the journal is to keep it.
JournalTurn
practice_note(Practice* practice, const TurnRecord* record);

/**
   Take note of a turn and write it; it is on the disk when this returns, so
   that it can be shown.

   @return STATUS_OK, or the status of journal_add_turn() with the fault
   written.
*/
MUST_USE Status
practice_turn(Practice* practice, const TurnRecord* record, Fault* fault);

/// End; nothing that was not begun is ended. A session without a note was no
/// practice, and nothing of it stays.
void
practice_end(Practice* practice);

/// End one of which nothing is to stay: what was wished of it was not done, and
/// done again it would count twice.
void
practice_drop(Practice* practice);

#endif // RESPONDER_LESSON_PRACTICE_H
