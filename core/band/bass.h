/// @file core/band/bass.h The bass of the band: walking, in two, by patterns,
/// or roots alone.

#ifndef CORE_BAND_BASS_H
#define CORE_BAND_BASS_H

#include "core/band/part.h"
#include "core/band/rotation.h"
#include "core/band/walk.h"
#include "core/music/chord.h"
#include "core/rng.h"

/// A bass player; zeroed, it has not begun.
typedef struct {
  Rotation rotation;
  Walk     walk; ///< Also knows the last pitch, whatever the line
} Bass;

/**
   Play a bar. Each chord that comes within it is said by its root, in every
   line. Where there is no chord, nothing is played; every note ends in the bar.
*/
void
bass_play(Bass* bass, const Cue* cue, Rng* rng, BandBar* bar);

/// Play a chord's root from the bar's first beat, until shortly before its end.
void
bass_end(Bass*        bass,
         const Cue*   cue,
         const Chord* chord,
         Rng*         rng,
         BandBar*     bar);

#endif // CORE_BAND_BASS_H
