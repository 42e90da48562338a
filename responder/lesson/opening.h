/// @file responder/lesson/opening.h The phrase that is developed: out of a
/// take, out of the last session, out of the notebook, or a new one.

#ifndef RESPONDER_LESSON_OPENING_H
#define RESPONDER_LESSON_OPENING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"
#include "responder/record/take.h"
#include "responder/say/say.h"
#include "responder/setup/setup.h"

#include <stdbool.h>

enum { OPENING_BARS_MOST = 4, OPENING_WORDS_CAPACITY = 160 };

/// Bars counted from 1, both ends in; zeroed: none were asked for.
typedef struct {
  unsigned first;
  unsigned last;
} OpeningSpan;

/// What is known of the phrase; keep it in place.
typedef struct {
  Phrase phrase;
  char   words[OPENING_WORDS_CAPACITY]; ///< What it is
  Ideas  ideas;                         ///< The phrases of the take before it
} Opening;

/**
   Take the phrase at some bars of a take, or the first one in it, in as many
   bars as it touches, from two up to OPENING_BARS_MOST.

   @return STATUS_OK; STATUS_MISSING if there is no note, with the fault
   written; STATUS_MEMORY.
*/
MUST_USE Status
opening_of_take(Opening*     opening,
                const Setup* setup,
                const Take*  take,
                OpeningSpan  span,
                Fault*       fault);

/**
   Take the player's last turn with a note out of a recording, over whose chart
   the setup is.

   @return STATUS_OK; STATUS_MISSING, with no fault, if nothing was played; else
   what failed, with the fault written.
*/
MUST_USE Status
opening_of_recording(Opening*     opening,
                     const Setup* setup,
                     const char*  path,
                     Tick         bar_one,
                     Fault*       fault);

/// Lay a remembered idea over the chart, from the first bar asked for on; it is
/// moved into the chart's key.
void
opening_of_idea(Opening*     opening,
                const Setup* setup,
                Idea         idea,
                unsigned     tonic,
                OpeningSpan  span);

/**
   Make a first idea on the learner's rung.

   @return STATUS_OK, or STATUS_MEMORY with the fault written.
*/
MUST_USE Status
opening_suggest(Opening*     opening,
                const Setup* setup,
                OpeningSpan  span,
                Fault*       fault);

/// Return what is asked of the speaker for a phrase: developments over its own
/// bars. It points into what is given.
SayRequest
opening_request(const Opening*    opening,
                const Setup*      setup,
                const SayHistory* history);

#endif // RESPONDER_LESSON_OPENING_H
