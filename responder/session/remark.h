/// @file responder/session/remark.h The one line said to the player after a
/// turn: what landed, then at most one suggestion.

#ifndef RESPONDER_SESSION_REMARK_H
#define RESPONDER_SESSION_REMARK_H

#include "core/music/chart.h"
#include "profiles/sentences/sentences.h"
#include "responder/hear/phrase.h"
#include "responder/session/goal.h"

#include <stdbool.h>

enum { REMARK_CAPACITY = 192 };

/// What was said last, so that it is not said again at once; zeroed at first.
typedef struct {
  unsigned last_praise;
  unsigned last_advice;
  unsigned n_said;
} Remarks;

/**
   Say one line about a turn. A suggestion that has no room in it is left out.

   @param silent_turns How many silent turns there were running, this one too.
   @param times_said How often the phrase has been said running, this time too.
   @param[out] text The line, with its NUL.
*/
void
remark_turn(Remarks*         remarks,
            const Sentences* sentences,
            const Chart*     chart,
            const Phrase*    phrase,
            unsigned         silent_turns,
            unsigned         times_said,
            char             text[REMARK_CAPACITY]);

/**
   Say one line about a phrase that was to be played again.

   @param said What was played before.
   @param[out] text The line, with its NUL.
*/
void
remark_echo(Remarks*         remarks,
            const Sentences* sentences,
            const Phrase*    phrase,
            const Phrase*    said,
            char             text[REMARK_CAPACITY]);

/**
   Say one line about a turn that had a goal of its own.

   @param[out] text The line, with its NUL.
*/
void
remark_goal(Remarks*         remarks,
            const Sentences* sentences,
            Goal             goal,
            bool             is_met,
            char             text[REMARK_CAPACITY]);

#endif // RESPONDER_SESSION_REMARK_H
