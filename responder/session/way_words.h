/// @file responder/session/way_words.h What is said of a way of playing: its
/// goal before it begins, and what each turn is for.

#ifndef RESPONDER_SESSION_WAY_WORDS_H
#define RESPONDER_SESSION_WAY_WORDS_H

#include "profiles/sentences/sentences.h"
#include "responder/session/goal.h"
#include "responder/session/remark.h"
#include "responder/session/turn.h"

#include <stdbool.h>

/// Write the goal of a way and what its first turn is for, or where the session
/// is too short for all that the way promises, that alone; nothing of the usual
/// way. Return `text`.
/// @param end Of the session's last turn.
const char*
way_words_opening(const Sentences* sentences,
                  TurnPlan         plan,
                  Tick             end,
                  unsigned         number,
                  char             text[REMARK_CAPACITY]);

/**
   Return the kind of sentence that says what a turn is for, if that is new;
   else N_SENTENCES.

   @param begins_form The turn is the first of a chorus.
   @param echo What an echo asks for.
*/
unsigned
way_words_turn(const Turn* turn, bool begins_form, Goal echo);

#endif // RESPONDER_SESSION_WAY_WORDS_H
