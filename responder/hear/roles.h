/// @file responder/hear/roles.h How the notes stand to chords and scales.

#ifndef RESPONDER_HEAR_ROLES_H
#define RESPONDER_HEAR_ROLES_H

#include "core/music/chart.h"
#include "responder/hear/phrase.h"

/// As hear_chord_tick() in hear.h.
Tick
roles_chord_tick(const Chart* chart,
                 Tick         grid_tick,
                 Tick         length,
                 Tick         next_tick);

/// As hear_role() in hear.h.
Role
roles_of(const Chart* chart, Tick chord_tick, unsigned pitch);

/// Write `role`, `is_anticipation` and `resolution` of every note, from its
/// written place and length.
void
roles_judge(Phrase* phrase, const Chart* chart);

/// Take back that notes were left hanging where a landing on the root at the
/// end of their phrase, or the same note outside on the same place of an
/// earlier bar, makes them sound meant: `resolution` is written. For players:
/// the partner leads its notes home.
void
roles_forgive(Phrase* phrase, Meter meter);

#endif // RESPONDER_HEAR_ROLES_H
