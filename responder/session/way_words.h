/// @file responder/session/way_words.h What is said of a way of playing: its
/// goal before it begins, and what each turn is for.

#ifndef RESPONDER_SESSION_WAY_WORDS_H
#define RESPONDER_SESSION_WAY_WORDS_H

#include "profiles/sentences/sentences.h"
#include "responder/session/goal.h"
#include "responder/session/remark.h"
#include "responder/session/turn.h"

#include <stdbool.h>

/// Write the goal of a way and what its first turn is for; nothing of the usual
/// way. Return `text`.
/// @param last The last turn of the first chorus.
const char*
way_words_opening(const Sentences* sentences,
                  Way              way,
                  const Turn*      first,
                  const Turn*      last,
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
