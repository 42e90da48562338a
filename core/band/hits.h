/// @file core/band/hits.h What a pattern has in the bar that is played.

#ifndef CORE_BAND_HITS_H
#define CORE_BAND_HITS_H

#include "core/band/feel.h"
#include "core/band/part.h"
#include "core/music/meter.h"
#include "core/tick.h"

#include <stdint.h>

enum { HITS_CAPACITY = FEEL_HIT_CAPACITY + 2 * METER_BEATS_PER_BAR_MAX };

/// A hit of the bar.
typedef struct {
  Tick    tick; ///< In the bar, as written
  Tick    length;
  double  velocity;
  uint8_t voice; ///< As in the feel
  Tick    own;   ///< Where its chord is read
} Hit;

typedef struct {
  unsigned n;
  Hit      hits[HITS_CAPACITY]; ///< Rising
} Hits;

/// Return the hits of a pattern that fall in the bar, each over its own chord.
Hits
hits_of(const FeelPattern* pattern, const Cue* cue);

/// Add a hit in its place; there must be room.
void
hits_add(Hits* hits, Hit hit);

#endif // CORE_BAND_HITS_H
