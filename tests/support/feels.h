/// @file tests/support/feels.h Feels as a musician might write them: any that a
/// file of config/feels could be and still be valid.

#ifndef TESTS_SUPPORT_FEELS_H
#define TESTS_SUPPORT_FEELS_H

#include "core/band/feel.h"
#include "core/rng.h"

#include <stddef.h>

/// Draw a feel, its values up to the ends of their ranges. Its hits lie a
/// quarter of a beat apart at least.
void
feels_draw(Feel* feel, Rng* rng);

/// Write a feel as the text of its file; return its length.
size_t
feels_text(const Feel* feel, char* text, size_t capacity);

#endif // TESTS_SUPPORT_FEELS_H
