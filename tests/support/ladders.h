/// @file tests/support/ladders.h Ladders as a teacher might write them: any
/// that config/ladder.cfg could be and still be valid.

#ifndef TESTS_SUPPORT_LADDERS_H
#define TESTS_SUPPORT_LADDERS_H

#include "core/rng.h"
#include "profiles/ladder/ladder.h"

#include <stddef.h>

/// Draw a ladder; a rung allows at least what the one below it allows, and
/// nothing else holds them together.
Ladder
ladders_draw(Rng* rng);

/// Write a ladder as the text of a ladder.cfg; return its length.
size_t
ladders_text(const Ladder* ladder, char* text, size_t capacity);

#endif // TESTS_SUPPORT_LADDERS_H
