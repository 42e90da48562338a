/// @file responder/hear/beats.h The dynamic programme over beats and onsets.

#ifndef RESPONDER_HEAR_BEATS_H
#define RESPONDER_HEAR_BEATS_H

#include "responder/hear/hear_work.h"
#include "responder/hear/phrase.h"
#include "responder/hear/reading.h"

/**
   List the onsets to be placed, without the ornaments, and the beats that they
   may belong to: a note shortly before a beat line has two of them.

   @param phrase Has a note that is no ornament.
   @param beat How long a beat lasts, in ticks.
   @param later What is taken off every onset, in ticks.
   @param early How long before its beat a note may sound, in beats.
*/
void
beats_list(HearWork*     work,
           const Phrase* phrase,
           Tick          beat,
           Tick          later,
           float         early);

/// Return what it costs to leave the division of the beat before, in nats.
float
beats_change(void);

/// Read the onsets; return the cost of the best reading in nats, or FLT_MAX as
/// soon as no reading costs less than `most`.
float
beats_read(HearWork* work, const Reading* reading, float most);

/// Follow the best reading back: each beat's division, each onset's beat and
/// slot are written.
void
beats_trace(HearWork* work, const Reading* reading);

#endif // RESPONDER_HEAR_BEATS_H
