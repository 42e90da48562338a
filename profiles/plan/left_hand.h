/// @file profiles/plan/left_hand.h The chords of a form as the left hand holds
/// them: all four tones in close position, moving as little as it can.

#ifndef PROFILES_PLAN_LEFT_HAND_H
#define PROFILES_PLAN_LEFT_HAND_H

#include "core/music/chart.h"
#include "core/music/chord.h"

#include <stdint.h>

enum {
  LEFT_HAND_KEYS    = 4,
  LEFT_HAND_LOWEST  = 44, ///< Ab2: below it four tones are mud
  LEFT_HAND_HIGHEST = 66, ///< Gb4
};

/// The keys of a chord, rising, each with its finger; none for silence.
typedef struct {
  unsigned n;
  uint8_t  pitches[LEFT_HAND_KEYS];
  uint8_t  fingers[LEFT_HAND_KEYS]; ///< 1 the thumb .. 5
} HandShape;

/**
   Return a chord's shape after another: the nearest one, and of equally near
   ones the one whose lowest key stays nearest.

   @param last None (zeroed): the chord stands on its root.
*/
HandShape
left_hand_shape(const Chord* chord, const HandShape* last);

/// Find the shape of every change of a chart, going through the form once; a
/// chord that comes back has its own again.
void
left_hand_shapes(const Chart* chart, HandShape shapes[CHART_CHANGE_CAPACITY]);

#endif // PROFILES_PLAN_LEFT_HAND_H
