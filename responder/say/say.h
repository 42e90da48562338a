/// @file responder/say/say.h From a heard phrase to an answer.
///
/// For a few of the moves on offer some lines are drawn; each is heard by the
/// listener as if someone had played it; the best by the measures is taken.

#ifndef RESPONDER_SAY_SAY_H
#define RESPONDER_SAY_SAY_H

#include "core/attributes.h"
#include "core/rng.h"
#include "profiles/ladder/move.h"
#include "responder/say/answer.h"
#include "responder/say/thinking.h"

#include <stdbool.h>

/**
   Answer.

   Never fails. With nothing to go on it opens with an idea of its own that
   begins with the root on the first beat. The time it takes does not depend on
   chance much, and grows with the notes of the call; it allocates nothing.

   @param rng Moved on; the same request and source give the same answer.
*/
void
say_answer(Answer* answer, Thinking* work, const SayRequest* request, Rng* rng);

/**
   Develop the call by one named move, whatever the ladder offers.

   @return Whether the move is possible for this call; `answer` is written only
   then.
*/
MUST_USE bool
say_by_move(Answer*           answer,
            Thinking*         work,
            const SayRequest* request,
            Move              move,
            Rng*              rng);

/// Keep what was said; `begins_chorus` forgets the chorus before.
void
say_remember(SayHistory* history, const Answer* answer, bool begins_chorus);

#endif // RESPONDER_SAY_SAY_H
