/// @file responder/say/judge.h What is wrong with a candidate.

#ifndef RESPONDER_SAY_JUDGE_H
#define RESPONDER_SAY_JUDGE_H

#include "responder/say/answer.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"
#include "responder/say/weights.h"

#include <stdbool.h>
#include <stdint.h>

/// Return a number for the written notes of a turn, ornaments left out: equal
/// for equal ones.
uint32_t
judge_digest(const Phrase* phrase);

/**
   Whether an answer has everything that every answer must have: its last note
   is the root or a chord tone (the root where asked for), no note outside is
   left hanging, it has room, and it says nothing that was said in this chorus.

   @param answer Heard, with its digest.
*/
bool
judge_musts(const Answer* answer, const Frame* frame, const Sketch* sketch);

/// Return how much is wrong with an answer that has what it must: 0 is nothing.
double
judge_faults(const Answer* answer, const Frame* frame, const Sketch* sketch);

/// Return the complexity that answers of a rung should have.
Band
judge_complexity(Rung rung);

#endif // RESPONDER_SAY_JUDGE_H
