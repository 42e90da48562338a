/// @file responder/hear/level.h How hard a phrase is.

#ifndef RESPONDER_HEAR_LEVEL_H
#define RESPONDER_HEAR_LEVEL_H

#include "core/music/chart.h"
#include "profiles/ladder/ladder.h"
#include "responder/hear/phrase.h"

/// Return the complexity of a phrase, 0..100. Its measures must be taken.
float
level_complexity(const Phrase* phrase, const Chart* chart);

/// Return the lowest rungs that allow what is in a phrase; the highest ones
/// where none does. One phrase shows no shape: 1.
Rung
level_rung(const Phrase* phrase, const Chart* chart, const Ladder* ladder);

#endif // RESPONDER_HEAR_LEVEL_H
