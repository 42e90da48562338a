/// @file responder/tell/ideas_tell.h A phrase, its developments and the
/// notebook in words.

#ifndef RESPONDER_TELL_IDEAS_TELL_H
#define RESPONDER_TELL_IDEAS_TELL_H

#include "responder/lesson/desk.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/// Write what is developed.
/// @param draws Draw the phrases, too.
void
ideas_tell_head(FILE* stream, const Desk* desk, bool draws);

/// Write one development.
void
ideas_tell_way(FILE* stream, const Desk* desk, unsigned index, bool draws);

/// Write whose notebook it is, over the chart of a desk that is set up.
void
ideas_tell_notebook(FILE* stream, const Desk* desk, const char* name);

/// Write an idea of the notebook, which is laid on the desk where it fits.
/// @param number Which of it, from 1.
void
ideas_tell_kept(FILE*              stream,
                Desk*              desk,
                const JournalIdea* kept,
                size_t             number,
                OpeningSpan        span,
                bool               draws);

#endif // RESPONDER_TELL_IDEAS_TELL_H
