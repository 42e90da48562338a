/// @file responder/say/thinking.h An answer thought out piece by piece.
///
/// Thinking is of fixed size, about 500 KiB; it points into itself, so keep it
/// in place. The same request and source of chance give the same answer,
/// however the slices lie in time. Nothing is allocated.

#ifndef RESPONDER_SAY_THINKING_H
#define RESPONDER_SAY_THINKING_H

#include "core/attributes.h"
#include "core/rng.h"
#include "responder/say/answer.h"
#include "responder/say/beats.h"
#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/melody.h"
#include "responder/say/plan.h"
#include "responder/say/prompt.h"
#include "responder/say/sketch.h"

#include <stdbool.h>

typedef struct {
  SayRequest  request;
  Rng         rng;
  Frame       frame;
  Source      source; ///< What is answered
  const Idea* left;   ///< The idea to come back to; NULL: none
  Source      first;  ///< ... as a source
  Idea        source_idea;
  Idea        old; ///< What is departed from, if anything
  Prompt      call;
  // Of the whole answer
  MoveSet   moves; ///< That may still be tried
  Move      move;
  bool      of_cell; ///< The move works on a cell, not on the whole phrase
  unsigned  cell;
  Intent    intent;
  BeatTable beats;
  // Of one candidate
  Plan    plan;
  Draft   draft;
  Sketch  sketch;
  Melody  melody;
  uint8_t line[PATH_NOTE_CAPACITY];
  Answer  candidate;
  // So far
  unsigned  n_slices;
  unsigned  n_left; ///< Slices, at most, for the move at hand
  Answer    best;
  MoveFacts facts;
  double    worth;
  bool      any;     ///< Whether there is a best one
  bool      departs; ///< ... with another rhythm, where one is to be left
} Thinking;

/**
   Begin to think.

   @param request Copied; its call, ideas, history, chart, ladder and the
   answer before must outlive the thinking.
   @param rng Mixed with the call, so that it is the call that decides.
*/
void
think_begin(Thinking* thinking, const SayRequest* request, Rng rng);

/// Do one bounded piece of work; false when enough was thought.
bool
think_slice(Thinking* thinking);

/// Give the best answer so far; if there is none, think the least that is
/// decent.
void
think_end(Thinking* thinking, Answer* answer);

/**
   Develop the call by one named move, whatever the ladder offers, at once.

   @return Whether the move is possible for this call; `answer` is written only
   then.
*/
MUST_USE bool
think_by_move(Thinking*         thinking,
              const SayRequest* request,
              Move              move,
              Rng               rng,
              Answer*           answer);

#endif // RESPONDER_SAY_THINKING_H
