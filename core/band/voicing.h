/// @file core/band/voicing.h A chord as a pianist's left hand voices it.
///
/// Voicings have no root where the chord has enough to say without it: third
/// (or what stands for it), seventh or sixth, and colour. A triad is played as
/// it is. They lie between C3 and E5, keep off muddy low intervals, and move as
/// little as they can from one to the next (common practice, no source).

#ifndef CORE_BAND_VOICING_H
#define CORE_BAND_VOICING_H

#include "core/music/chord.h"
#include "core/music/key.h"

#include <stdint.h>

enum {
  BAND_VOICES     = 4,  ///< Notes of a comping chord, at most
  VOICING_LOWEST  = 48, ///< C3
  VOICING_HIGHEST = 76, ///< E5
};

/// The pitches of a chord, rising; zeroed, nothing has been played yet.
typedef struct {
  unsigned n_voices;
  uint8_t  pitches[BAND_VOICES];
} Voicing;

/// The pitch classes to be voiced, the indispensable ones first.
typedef struct {
  unsigned n_tones;
  uint8_t  classes[BAND_VOICES];
} VoicingTones;

/// What a voicing should do about the one before it.
typedef enum {
  VOICING_NEAR,  ///< Move as little as possible
  VOICING_OTHER, ///< Take another top note, towards the middle
  VOICING_FRESH, ///< Share no pitch with it, since it still sounds
} VoicingWish;

/**
   Choose the tones of a chord that are played.

   The third and the seventh or sixth come first, then the tension that the
   symbol asks for, then an altered fifth. A plain seventh chord gets its ninth
   where the key has it, else the fifth and the root.

   @param chord Not silence.
*/
VoicingTones
voicing_tones(const Chord* chord, Key key);

/// Voice some tones after the voicing that was played last.
Voicing
voicing_next(const VoicingTones* tones, const Voicing* last, VoicingWish wish);

/**
   Voice some tones below a ceiling, with fewer of them if it must be: never
   fewer than two, none too low for its interval.

   @param ceiling The highest pitch allowed; from VOICING_HIGHEST up it is
   voicing_next().
   @return No voices if there is no room.
*/
Voicing
voicing_under(const VoicingTones* tones,
              const Voicing*      last,
              VoicingWish         wish,
              unsigned            ceiling);

/// Return how far the voices move, in semitones, top to top and down; a voice
/// more or less moves from or to its nearest neighbour. 0 from nothing.
unsigned
voicing_movement(const Voicing* from, const Voicing* to);

#endif // CORE_BAND_VOICING_H
