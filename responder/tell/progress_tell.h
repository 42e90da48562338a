/// @file responder/tell/progress_tell.h The way come in words.

#ifndef RESPONDER_TELL_PROGRESS_TELL_H
#define RESPONDER_TELL_PROGRESS_TELL_H

#include "responder/lesson/progress_view.h"

#include <stdio.h>

enum { PROGRESS_MOVES = 5 }; ///< Of the ladder that are told in lines

/// Tell it in lines of up to 80 characters.
void
progress_tell(FILE* stream, const ProgressView* view);

#endif // RESPONDER_TELL_PROGRESS_TELL_H
