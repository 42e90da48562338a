/// @file holds.h Whether notes hold to the ladder that they were made by: their
/// own notes counted here.

#ifndef TESTS_UNIT_SAY_HOLDS_H
#define TESTS_UNIT_SAY_HOLDS_H

#include "fixture.h"

#include "core/rng.h"

/// Assert that an answer of so many bars has no division, off-beat, density,
/// tone, compass or ornament that the rung of its request does not have; what
/// the call itself used may come back.
void
holds_to_ladder(const Fixture* fixture, const Answer* answer, unsigned bars);

/// Draw a rung of every dimension.
Rung
holds_draw_rung(Rng* rng);

#endif // TESTS_UNIT_SAY_HOLDS_H
