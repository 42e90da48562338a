/// @file responder/say/worth.h How good a drawn line is, before it is played.

#ifndef RESPONDER_SAY_WORTH_H
#define RESPONDER_SAY_WORTH_H

#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/plan.h"
#include "responder/say/prompt.h"

#include <stdint.h>

/// A line to be judged.
typedef struct {
  const Frame*   frame;
  const Prompt*  call;
  const Intent*  intent;
  const Draft*   draft;
  const uint8_t* line;  ///< The pitches of the draft's notes
  double         alike; ///< What worth_alike() says of the draft
} Candidate;

/// Return how alike the rhythms of a draft and the call are as wholes, 0..1; 0
/// where a whole phrase is followed, which may be alike.
double
worth_alike(const Draft* draft, const Prompt* call);

/// Return the worth of a candidate; more is better.
double
worth_of(const Candidate* candidate);

#endif // RESPONDER_SAY_WORTH_H
