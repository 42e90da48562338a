/// @file responder/hear/timing.h How the notes stand in time.

#ifndef RESPONDER_HEAR_TIMING_H
#define RESPONDER_HEAR_TIMING_H

#include "core/music/meter.h"
#include "responder/hear/phrase.h"

/// Times in ticks; late is positive.
typedef struct {
  double lag;         ///< Mean deviation of the notes on the beat
  double offset;      ///< Mean deviation of all
  double spread;      ///< Standard deviation about it
  double swing_ratio; ///< 0 if no beat tells
} Timing;

/**
   Measure the deviations of sounded from written places.

   Swung off-beats are measured from where the phrase itself places them. The
   swing ratio is the median of long : short over the beats in even or swung
   eighths that hold exactly two notes; such a beat ends with the next onset if
   that stands on the next beat, else on the beat line moved by the lag. Ratios
   beyond 0.25..4 are left out (Corcoran & Frieler 2021).
*/
Timing
timing_measure(const Phrase* phrase, Meter meter);

#endif // RESPONDER_HEAR_TIMING_H
