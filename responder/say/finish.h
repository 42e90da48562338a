/// @file responder/say/finish.h How long the notes of a draft last.

#ifndef RESPONDER_SAY_FINISH_H
#define RESPONDER_SAY_FINISH_H

#include "core/rng.h"
#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/// Write a draft as a sketch with lengths, to be performed; the facts stays.
void
finish_lengths(Sketch*      sketch,
               const Frame* frame,
               const Draft* draft,
               Rng*         rng);

#endif // RESPONDER_SAY_FINISH_H
