/// @file responder/app/ideas_desk.h What is on the table while a phrase is
/// developed: for the command of ideas only.

#ifndef RESPONDER_APP_IDEAS_DESK_H
#define RESPONDER_APP_IDEAS_DESK_H

#include "profiles/journal/journal.h"
#include "responder/app/opening.h"
#include "responder/app/options.h"
#include "responder/app/who.h"
#include "responder/ideas/develop.h"
#include "responder/session/session.h"
#include "responder/setup/setup.h"

#include <stdbool.h>
#include <stdio.h>

/// Kept in one piece; its options and the learner are known from the beginning.
typedef struct {
  const Options* options;
  Setup          setup;
  Who            who;
  JournalIdeas   kept;
  OpeningSpan    span;
  Opening        opening;
  SayHistory     history; ///< Nothing was said yet
  DevelopWork    work;
  Developments   found;
  Chart          bars; ///< Of the phrase alone
  TurnRecord     record;
  FILE*          stream;
} Desk;

/// Load what was chosen; what is wrong is said. Return the exit status.
int
desk_load(Desk* desk, const Choices* choices);

/// Lay out the phrase to begin with; what is wrong is said. Return the exit
/// status.
int
desk_open(Desk* desk);

/// Return how many developments are wanted.
unsigned
desk_wanted(const Options* options);

/// Return how a move is to be practised.
const char*
desk_practise(const Desk* desk, Move move);

/// Write the phrase and, unless they are played live, its developments.
void
desk_tell(const Desk* desk);

/// Write one development.
void
desk_tell_way(const Desk* desk, unsigned index);

/// List the notebook; return the exit status.
int
desk_list_kept(Desk* desk);

/// Write the report, as --report says; return the exit status.
int
desk_report(Desk* desk);

/// Write the notation, as --musicxml says; return the exit status.
int
desk_notate(Desk* desk);

#endif // RESPONDER_APP_IDEAS_DESK_H
