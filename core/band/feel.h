/// @file core/band/feel.h A feel: how the band plays, as a musician writes it.
///
/// Values only; config/feels/*.cfg is read in the settings room.
///
/// Layers: while the band is thin, each part draws from its patterns of layer
/// 0; while it is full, from those of layer 1 *in their place*. So a pattern is
/// the whole of what its part plays in that bar, and can be read off as such. A
/// part with no fitting pattern of layer 1 plays those of layer 0 when full,
/// too; a part with none of layer 0 is silent when thin.
///
/// Turns: where several patterns fit, one is drawn each time that the last one
/// has come to its end, and none is played three times running. A pattern of
/// several bars begins on a bar of the form (counted from 0) that is a multiple
/// of its length; from within only if nothing else is left to draw.

#ifndef CORE_BAND_FEEL_H
#define CORE_BAND_FEEL_H

#include "core/music/meter.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  FEEL_NAME_CAPACITY    = 32,
  FEEL_METER_CAPACITY   = 6,
  FEEL_PATTERN_CAPACITY = 32, ///< Patterns for one part
  FEEL_HIT_CAPACITY     = 64, ///< Hits of one pattern
};

/// One stroke of a pattern.
typedef struct {
  Tick    tick;     ///< Written, from the pattern's beginning
  Tick    length;   ///< Written, 1 or more; of no matter for drums
  uint8_t velocity; ///< 1..127
  uint8_t voice;    ///< Drums: the General MIDI key; bass: a BassTone
} FeelHit;

/// What a bass hit plays of the chord at its place.
///
/// Whatever is written, the first hit on a new chord is its root; the root of a
/// slash chord is its bass note, and so is its fifth.
typedef enum {
  BASS_ROOT,
  BASS_FIFTH,
  BASS_OCTAVE,  ///< The root, an octave above, or below where that is too high
  BASS_APPROACH ///< A step or a fifth from the root of the next hit's chord
} BassTone;

/// A bar or more for one part.
typedef struct {
  uint8_t  n_bars; ///< 1, 2 or 4
  uint8_t  layer;  ///< 0 for the thin band, 1 for the full one (see above)
  Meter    meter;  ///< That it fits; zeroed, every meter of the feel
  unsigned n_hits;
  FeelHit  hits[FEEL_HIT_CAPACITY]; ///< Rising; those beyond the bars are left
                                    ///< out
} FeelPattern;

typedef struct {
  unsigned    n_patterns;
  FeelPattern patterns[FEEL_PATTERN_CAPACITY]; ///< Drawn from, turn about
} FeelPart;

typedef enum {
  BASS_LINE_PATTERN, ///< The patterns of the feel
  BASS_LINE_TWO,     ///< Two notes a bar (one in three), roots and fifths
  BASS_LINE_WALKING, ///< A note a beat, from root to root
} BassLine;

/// Feel, about 150 KiB; keep it in place and pass its address.
typedef struct {
  char     name[FEEL_NAME_CAPACITY];
  unsigned n_meters;
  Meter    meters[FEEL_METER_CAPACITY]; ///< That it is for
  bool     swing_by_tempo;
  double   swing_ratio;      ///< Used unless by tempo; 1 straight .. 4
  double   ride_swing_extra; ///< Added to the ratio for drums, 0..1.5
  BassLine bass_line;
  FeelPart chords;
  FeelPart bass; ///< Used with BASS_LINE_PATTERN only
  FeelPart drums;
} Feel;

/// Return the swing ratio of a feel at a tempo; 1 is straight.
double
feel_swing_ratio(const Feel* feel, double tempo_bpm);

/**
   Return the swing ratio of the drums, which may be more uneven.

   The extra never makes the short note shorter than 80 ms, nor the ratio larger
   than 4; drums never swing less than the others.
*/
double
feel_drum_ratio(const Feel* feel, double tempo_bpm);

/// Whether a feel is for a meter: it says so, and each part that has patterns
/// to play has one that fits.
bool
feel_fits(const Feel* feel, Meter meter);

/// Whether a pattern may be played in a meter.
bool
feel_pattern_fits(const FeelPattern* pattern, Meter meter);

#endif // CORE_BAND_FEEL_H
