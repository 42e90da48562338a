/// @file responder/ideas/develop.h Other ways on from a phrase: developments of
/// it, each named, no two alike, from near to far.

#ifndef RESPONDER_IDEAS_DEVELOP_H
#define RESPONDER_IDEAS_DEVELOP_H

#include "profiles/ladder/move.h"
#include "responder/hear/ideas.h"
#include "responder/say/answer.h"
#include "responder/say/thinking.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  DEVELOP_MOST  = 24, ///< Developments of one phrase
  DEVELOP_TRIES = 8,  ///< Answers by each move that there is to choose from
  DEVELOP_POOL  = N_MOVES * DEVELOP_TRIES,
};

/// One way on.
typedef struct {
  Answer   answer;
  Likeness likeness; ///< To the phrase, whatever the move came from
  float    nearness; ///< The mean of its rhythm and its pitch, 0..1
} Development;

/// What came of a phrase; about 500 KiB, keep it in place.
typedef struct {
  unsigned    n;
  Development ways[DEVELOP_MOST]; ///< Nearness falling
} Developments;

/// Room to work in; about 2.5 MiB, keep it in place.
typedef struct {
  Thinking    say;
  unsigned    n;
  Development pool[DEVELOP_POOL];
  float       nearest[DEVELOP_POOL]; ///< Notes shared with one that is chosen
  bool        is_chosen[DEVELOP_POOL];
} DevelopWork;

/**
   Develop the call of a request by every move, and choose.

   Each development has what every answer must have and is what its move is
   called; none shares most of its written notes with another, nor is another
   one moved in the bar (but for what a shift is called), and only an
   ornamented one has those of the call. The moves that the rung offers come
   first, then those that there are fewest of.

   @param request Its call holds a note; its history is of no matter if it is
   empty.
   @param count How many are wanted, 1..DEVELOP_MOST; there may be fewer.
   @param seed The same request and seed give the same developments.
*/
void
develop(Developments*     developments,
        DevelopWork*      work,
        const SayRequest* request,
        unsigned          count,
        uint64_t          seed);

/// Return the share, 0..1, of the written notes of the longer of two phrases
/// that stand in the other at the same place of the turn; whichever octave one
/// of them is played in.
float
develop_shared(const Phrase* a, const Phrase* b);

#endif // RESPONDER_IDEAS_DEVELOP_H
