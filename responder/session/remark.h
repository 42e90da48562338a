/// @file responder/session/remark.h The one line said to the player after a
/// turn: what worked, then at most one suggestion.
///
/// Praise and judgement agree: what is praised came off, and of a turn that did
/// not come off as a whole it is said why.

#ifndef RESPONDER_SESSION_REMARK_H
#define RESPONDER_SESSION_REMARK_H

#include "core/music/chart.h"
#include "profiles/sentences/sentences.h"
#include "responder/hear/phrase.h"
#include "responder/session/goal.h"
#include "responder/session/outcome.h"

#include <stdbool.h>

enum { REMARK_CAPACITY = 192 };

/// When each thing was said last, so that others come first, and how often, so
/// that its wordings go round; zeroed at first.
typedef struct {
  unsigned n_said;
  unsigned first;                ///< Wording: another one in each session
  unsigned times[N_SENTENCES];   ///< By SentenceKind
  unsigned said_at[N_SENTENCES]; ///< By SentenceKind: 0 never, else its number
} Remarks;

/// What is spoken of.
typedef struct {
  const Chart*   chart;
  const Phrase*  phrase;
  const Outcome* outcome;      ///< NULL: it was not judged
  const Phrase*  said;         ///< By the partner, last; NULL: nothing
  bool           goes_on;      ///< The turn before was the player's, too
  unsigned       silent_turns; ///< Running, this one too
  SentenceKind   silence;      ///< What a silent one is met with; 0: as usual
  bool           is_early;     ///< It was played in the bar to sing in, alone
  bool           is_last;      ///< No turn of the player's comes after it
  bool           is_end;       ///< ... and none of the partner's
  bool           comes_back;   ///< It was said before, and left
  unsigned       times_said;   ///< The phrase, running, this time too
  bool           is_rhythm;    ///< ... though with other notes than before
  bool           is_fewer;     ///< Fewer notes over a chord than before
} RemarkView;

/**
   Say one line about a turn. A suggestion that has no room in it is left out.

   @param[out] text The line, with its NUL; empty of a long silence.
*/
void
remark_turn(Remarks*          remarks,
            const Sentences*  sentences,
            const RemarkView* view,
            char              text[REMARK_CAPACITY]);

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
   Say one line about a turn that had a goal of its own, and was judged: where
   it was missed, first what was good all the same, if anything was.

   @param[out] text The line, with its NUL.
*/
void
remark_goal(Remarks*          remarks,
            const Sentences*  sentences,
            const RemarkView* view,
            char              text[REMARK_CAPACITY]);

#endif // RESPONDER_SESSION_REMARK_H
