/// @file responder/say/why.h One sentence about an answer: what it took from
/// the player, and what it did with it.

#ifndef RESPONDER_SAY_WHY_H
#define RESPONDER_SAY_WHY_H

#include "core/music/chart.h"
#include "responder/say/answer.h"
#include "responder/say/sketch.h"

/// Return what an answer is called: `sequence`, `own line`.
const char*
why_name(AnswerIs is, Move move);

/// Write `answer->why`, and what it is; from `home` on the band is at home,
/// whatever the chart has where its form comes round.
void
why_write(Answer*          answer,
          const Chart*     chart,
          const MoveFacts* facts,
          Treatment        treatment,
          Tick             home);

#endif // RESPONDER_SAY_WHY_H
