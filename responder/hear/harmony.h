/// @file responder/hear/harmony.h How the notes stand to chords and scales.

#ifndef RESPONDER_HEAR_HARMONY_H
#define RESPONDER_HEAR_HARMONY_H

#include "core/music/chart.h"
#include "responder/hear/phrase.h"

/// As hear_chord_tick() in hear.h.
Tick
harmony_chord_tick(const Chart* chart,
                   Tick         grid_tick,
                   Tick         length,
                   Tick         next_tick);

/// As hear_role() in hear.h.
Role
harmony_role(const Chart* chart, Tick chord_tick, unsigned pitch);

/// Write `role`, `is_anticipation` and `resolution` of every note, from its
/// written place and length.
void
harmony_judge(Phrase* phrase, const Chart* chart);

#endif // RESPONDER_HEAR_HARMONY_H
