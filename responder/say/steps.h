/// @file responder/say/steps.h What an interval is worth within a line.

#ifndef RESPONDER_SAY_STEPS_H
#define RESPONDER_SAY_STEPS_H

#include "responder/say/draft.h"
#include "responder/say/frame.h"

/// Return the worth of `d` semitones to a note from the one before it.
///
/// @param place At least 1.
double
steps_worth(const Frame* frame, const Draft* draft, unsigned place, int d);

#endif // RESPONDER_SAY_STEPS_H
