/// @file responder/hear/syncopation.h Syncopation after Longuet-Higgins & Lee.

#ifndef RESPONDER_HEAR_SYNCOPATION_H
#define RESPONDER_HEAR_SYNCOPATION_H

#include "core/music/meter.h"
#include "core/tick.h"

/**
   Return the syncopation of written onsets, summed over the bars.

   A span is halved (or cut in three) until it is a rest, or a note on its start
   only. A rest or tie that does not weigh less than the last note before it
   makes a syncopation of the difference (Longuet-Higgins & Lee 1984, the strict
   rule). Of several rests after one note, those beyond the bar that follows are
   not counted.

   @param ticks Rising; those before `start` are a pick-up.
   @param start The beginning of a bar, as is `end`.
*/
float
syncopation_sum(const Tick* ticks,
                unsigned    n,
                Meter       meter,
                Tick        start,
                Tick        end);

#endif // RESPONDER_HEAR_SYNCOPATION_H
