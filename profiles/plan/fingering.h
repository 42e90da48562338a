/// @file profiles/plan/fingering.h Which finger plays which key of a run.
///
/// Common practice, no source: fingers follow each other, the thumb passes
/// under the second to the fourth, and it does not fall on a black key while a
/// white one is at hand. Of all fingerings the one of the least effort is taken
/// (a dynamic programme over keys and fingers; the efforts are in fingering.c).

#ifndef PROFILES_PLAN_FINGERING_H
#define PROFILES_PLAN_FINGERING_H

#include <stdbool.h>
#include <stdint.h>

enum { FINGERING_CAPACITY = 32, N_FINGERS = 5 };

typedef enum { HAND_LEFT, HAND_RIGHT } Hand;

/// Whether a MIDI key is black.
bool
fingering_is_black(unsigned pitch);

/**
   Finger a run upwards; downwards the same fingers serve.

   @param pitches `n` of them, rising, 1..FINGERING_CAPACITY.
   @param[out] fingers `n` of them, 1 the thumb .. 5.
*/
void
fingering_find(Hand hand, const uint8_t* pitches, unsigned n, uint8_t* fingers);

#endif // PROFILES_PLAN_FINGERING_H
