/// @file core/band/comping.h The chords of the band, in the rhythm of its feel.

#ifndef CORE_BAND_COMPING_H
#define CORE_BAND_COMPING_H

#include "core/band/part.h"
#include "core/band/rotation.h"
#include "core/band/voicing.h"
#include "core/music/chord.h"
#include "core/rng.h"
#include "core/tick.h"

/// A comping hand; zeroed, it has not begun.
typedef struct {
  Rotation rotation;
  Voicing  voicing;    ///< The last one played
  Chord    chord;      ///< Its chord
  Tick     struck;     ///< Where it began, as written
  Tick     held_until; ///< Where it ends, as written
} Comping;

/**
   Play a bar.

   A hit on the off-beat before a change belongs to the coming chord, unless it
   is one of several in its beat and is not held into the next. It may be held
   over the bar line; the hits that it is held over are left out. Each
   chord that comes within a bar gets a hit, if the bar has any. No chord sounds
   on when it has gone. Where there is no chord, nothing is played.

   Where a soloist is heard, hits fall into the rests of a beat and more, if the
   bar has any, and a full band speaks in each of them; where notes go by fast,
   there are none; all chords keep below the line.
*/
void
comping_play(Comping* comping, const Cue* cue, Rng* rng, BandBar* bar);

/// Play one chord from the bar's first beat, until shortly before its end.
void
comping_end(Comping*     comping,
            const Cue*   cue,
            const Chord* chord,
            Rng*         rng,
            BandBar*     bar);

#endif // CORE_BAND_COMPING_H
