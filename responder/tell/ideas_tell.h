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

/// Write one development; live without its sentence, which is said as it is
/// played.
void
ideas_tell_way(FILE*       stream,
               const Desk* desk,
               unsigned    index,
               bool        draws,
               bool        is_live);

/// Write whose notebook it is.
void
ideas_tell_notebook(FILE* stream, const char* name, bool draws);

/// Write an idea of the notebook.
/// @param desk Where it is laid; NULL if it cannot be.
/// @param number Which of it, from 1.
void
ideas_tell_kept(FILE*              stream,
                const Desk*        desk,
                const JournalIdea* kept,
                size_t             number,
                bool               draws);

#endif // RESPONDER_TELL_IDEAS_TELL_H
