/// @file core/music/swing.h Where the off-beats fall.
///
/// A swing ratio is long : short within a beat: 1 is straight, 2 the triplet.

#ifndef CORE_MUSIC_SWING_H
#define CORE_MUSIC_SWING_H

#include "core/music/meter.h"
#include "core/tick.h"

#include <stddef.h>

/**
   Return the ratio that soloists use at a tempo.

   Medians of annotated jazz solos, joined by straight lines: they swing most
   near 145 bpm and less on both sides.

   @param tempo_bpm Quarters a minute, above 0.
*/
double
swing_ratio_by_tempo(double tempo_bpm);

/**
   Return where a written position sounds when half beats swing.

   Beats stay, the half beat moves to ratio / (1 + ratio) of its beat. Only the
   half beat of a beat in even division is swung: thirds of a beat stand, and
   quarters of a beat follow the halves that they divide. In compound meters
   nothing moves.

   @param grid_tick May be negative.
   @param ratio 0.25..4
*/
Tick
swing_place(Meter meter, Tick grid_tick, double ratio);

/**
   Return where a written position of a line sounds: as swing_place(), but even
   in a beat where the line has a sixteenth.

   Eighths swing, four to the beat are even (common practice, no source): swung,
   the first two of them are heard as triplets.

   @param onsets What the line has, in any order.
*/
Tick
swing_place_in(Meter       meter,
               Tick        grid_tick,
               double      ratio,
               const Tick* onsets,
               size_t      n_onsets);

#endif // CORE_MUSIC_SWING_H
