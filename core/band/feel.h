/// @file core/band/feel.h A feel: how the band plays, as a musician writes it.
///
/// Values only; config/feels/*.cfg is read in the settings room.

#ifndef CORE_BAND_FEEL_H
#define CORE_BAND_FEEL_H

#include "core/attributes.h"
#include "core/music/meter.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum
{
  FEEL_NAME_CAPACITY    = 32,
  FEEL_METER_CAPACITY   = 6,
  FEEL_PATTERN_CAPACITY = 8,  ///< Patterns for one part
  FEEL_HIT_CAPACITY     = 64, ///< Hits of one pattern
};

/// One stroke of a pattern.
typedef struct
{
  Tick    tick;     ///< Written, from the pattern's beginning
  Tick    length;   ///< Written
  uint8_t velocity; ///< 1..127
  uint8_t voice;    ///< Drums: the General MIDI key; bass: a BassTone
} FeelHit;

/// What a bass hit plays of the chord at its place.
typedef enum
{
  BASS_ROOT,
  BASS_FIFTH,
  BASS_OCTAVE,
  BASS_APPROACH
} BassTone;

/// A bar or two for one part.
typedef struct
{
  uint8_t  n_bars; ///< 1, 2 or 4
  uint8_t  layer;  ///< 0 always heard, 1 only when the band is full
  unsigned n_hits;
  FeelHit  hits[FEEL_HIT_CAPACITY]; ///< Rising
} FeelPattern;

typedef struct
{
  unsigned    n_patterns;
  FeelPattern patterns[FEEL_PATTERN_CAPACITY]; ///< Drawn from, turn about
} FeelPart;

typedef enum
{
  BASS_LINE_PATTERN, ///< The patterns of the feel
  BASS_LINE_TWO,     ///< Two notes a bar (one in three), roots and fifths
  BASS_LINE_WALKING, ///< A note a beat, from root to root
} BassLine;

/// Feel, about 40 KiB.
typedef struct
{
  char     name[FEEL_NAME_CAPACITY];
  unsigned n_meters;
  Meter    meters[FEEL_METER_CAPACITY]; ///< That it is for
  bool     swing_by_tempo;
  double   swing_ratio;      ///< Used unless by tempo; 1 straight
  double   ride_swing_extra; ///< Added to the ratio for drums, 0..1.5
  BassLine bass_line;
  FeelPart chords;
  FeelPart bass;
  FeelPart drums;
} Feel;

/// Return the swing ratio of a feel at a tempo; 1 is straight.
RT_SAFE double feel_swing_ratio(const Feel* feel, double tempo_bpm);

/// Whether a feel is for a meter.
RT_SAFE bool feel_fits(const Feel* feel, Meter meter);

#endif // CORE_BAND_FEEL_H
