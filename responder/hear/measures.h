/// @file responder/hear/measures.h What can be counted in a phrase.

#ifndef RESPONDER_HEAR_MEASURES_H
#define RESPONDER_HEAR_MEASURES_H

#include "core/music/meter.h"
#include "responder/hear/phrase.h"

/// Write `measures` (but for the complexity) and `contour`. Everything else
/// that hangs on single notes must be known.
void
measures_take(Phrase* phrase, Meter meter, double ms_per_tick);

/// Return the normalised pairwise variability index of `n` durations, 0 for
/// fewer than two: 100 / (n - 1) times the sum of |a - b| / ((a + b) / 2).
float
measures_evenness(const Tick* durations, unsigned n);

/// Write the Parsons code of `n` pitches: `*`, then up, down, repeat; `n` + 1
/// characters with the NUL.
void
measures_contour(const uint8_t* pitches, unsigned n, char* code);

#endif // RESPONDER_HEAR_MEASURES_H
