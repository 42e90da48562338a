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
  const uint8_t* line; ///< The pitches of the draft's notes
} Candidate;

/// Return the worth of a candidate; more is better.
double
worth_of(const Candidate* candidate);

#endif // RESPONDER_SAY_WORTH_H
