/// @file responder/hear/search.h The reading that is cheapest to describe.

#ifndef RESPONDER_HEAR_SEARCH_H
#define RESPONDER_HEAR_SEARCH_H

#include "core/music/meter.h"
#include "responder/hear/acquaintance.h"
#include "responder/hear/hear_work.h"
#include "responder/hear/phrase.h"
#include "responder/hear/reading.h"

/// How much later or earlier than usual a player is tried to be.
extern const double search_latenesses_ms[N_LATENESSES];

/// The best reading of a phrase.
typedef struct {
  Reading     reading;
  Timekeeping usual;    ///< With which it was found
  double      later_ms; ///< How much later than that the player is taken to be
  float       cost;
  Evidence    evidence;
} Finding;

/**
   Find the best reading of a phrase: how every beat is divided, and lateness,
   spread and swing with it.

   @param phrase Has a note that is no ornament.
   @param work Each onset's beat and slot are written.
*/
Finding
search_best(HearWork*          work,
            const Phrase*      phrase,
            Meter              meter,
            double             beat_ms,
            const Expectation* expectation);

/// Read a phrase once more, with other notes taken for ornaments: in the way
/// that was found, which fits the notes anew.
void
search_again(HearWork* work, const Phrase* phrase, Meter meter, Finding* found);

#endif // RESPONDER_HEAR_SEARCH_H
