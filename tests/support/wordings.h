/// @file tests/support/wordings.h Sentences as a teacher might word them: any
/// that config/sentences.cfg could hold and still be valid.

#ifndef TESTS_SUPPORT_WORDINGS_H
#define TESTS_SUPPORT_WORDINGS_H

#include "core/rng.h"
#include "profiles/sentences/sentences.h"

#include <stddef.h>

/// Draw sentences: from the fewest to the most wordings of each kind, short and
/// as long as there is room for, with what the kind may hold in braces.
void
wordings_draw(Sentences* sentences, Rng* rng);

/// Write sentences as the text of their file; return its length.
size_t
wordings_text(const Sentences* sentences, char* text, size_t capacity);

#endif // TESTS_SUPPORT_WORDINGS_H
