/// @file responder/say/thinking.h An answer thought out piece by piece.
///
/// Thinking is a plain value of fixed size, about 500 KiB; keep it in place.
/// The same request and source of chance give the same answer, however the
/// slices lie in time.

#ifndef RESPONDER_SAY_THINKING_H
#define RESPONDER_SAY_THINKING_H

#include "core/attributes.h"
#include "core/rng.h"
#include "responder/say/answer.h"
#include "responder/say/say_work.h"

#include <stdbool.h>

typedef struct {
  SayWork    work;
  SayRequest request;
  Rng        rng;
  Answer     best;
  bool       any; ///< Whether there is a best one
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

#endif // RESPONDER_SAY_THINKING_H
