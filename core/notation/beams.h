/// @file core/notation/beams.h Which notes of a measure are beamed.

#ifndef CORE_NOTATION_BEAMS_H
#define CORE_NOTATION_BEAMS_H

#include "core/music/meter.h"
#include "core/notation/measure.h"

/**
   Write the beams of a measure: by the beat, and four plain eighths by the half
   bar in 2/4 and 4/4 (common practice).

   @param offset Where the measure begins in the bar: 0, but in a pick-up.
*/
void
beams_write(Measure* measure, Meter meter, Moment offset);

#endif // CORE_NOTATION_BEAMS_H
