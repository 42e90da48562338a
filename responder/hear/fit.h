/// @file responder/hear/fit.h Lateness, spread and swing of a phrase, fitted to
/// a reading of it.

#ifndef RESPONDER_HEAR_FIT_H
#define RESPONDER_HEAR_FIT_H

#include "responder/hear/hear_work.h"
#include "responder/hear/reading.h"

/**
   Fit lag, spread and swing to the onsets as they are placed.

   @param work Its beats hold the divisions and its slots the places found.
   @param usual Pulls the harder the fewer onsets there are.
*/
void
fit_reading(Reading* reading, const HearWork* work, GridFit usual);

/// Return what lag, spread and swing of a reading cost by themselves, in nats.
float
fit_cost(const Reading* reading, unsigned n_onsets, GridFit usual);

#endif // RESPONDER_HEAR_FIT_H
