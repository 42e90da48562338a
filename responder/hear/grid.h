/// @file responder/hear/grid.h The simplest grid that explains the onsets.
///
/// Every beat has its own division; one dynamic programme over beats and onsets
/// finds the reading that is cheapest to describe (search.h).

#ifndef RESPONDER_HEAR_GRID_H
#define RESPONDER_HEAR_GRID_H

#include "core/music/meter.h"
#include "responder/hear/acquaintance.h"
#include "responder/hear/hear_work.h"
#include "responder/hear/phrase.h"

/**
   Find the written place of every note that is no ornament. Ornaments whose
   main note then stands where none is expected are taken for notes.

   @param phrase Its notes' onsets and `is_ornament` are read, `grid_tick` is
   written, and `grid` where a beat is swung: see grid_name_beats().
   @param beat_ms How long a beat of the meter lasts.
*/
void
grid_find(Phrase*            phrase,
          HearWork*          work,
          Meter              meter,
          double             beat_ms,
          const Expectation* expectation);

/// Tell from sounded and written places whether the off-beats swing: `grid` is
/// written for grid_name_beats().
void
grid_guess_swing(Phrase* phrase, Meter meter);

/// Name the division of every beat by the places that its notes stand on:
/// `grid` is written. Notes that come in as GRID_SWUNG_EIGHTH stay so in beats
/// of two.
void
grid_name_beats(Phrase* phrase, Meter meter);

#endif // RESPONDER_HEAR_GRID_H
