/// @file responder/say/steps.h What an interval is worth within a line.

#ifndef RESPONDER_SAY_STEPS_H
#define RESPONDER_SAY_STEPS_H

#include "responder/say/draft.h"
#include "responder/say/frame.h"

/// Return the worth of `d` semitones to a note from the one before it.
///
/// @param place Of that note in the draft, at least 1.
/// @param d Upwards; below 0 downwards.
/// @return 0 where no hand gets there in time; else above 0, as a weight.
double
steps_worth(const Frame* frame, const Draft* draft, unsigned place, int d);

#endif // RESPONDER_SAY_STEPS_H
