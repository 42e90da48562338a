/// @file responder/page/keeping.h Turns on their way into the journal, so that
/// no page waits for the disk.

#ifndef RESPONDER_PAGE_KEEPING_H
#define RESPONDER_PAGE_KEEPING_H

#include "responder/page/face.h"

/// Let the turn that was taken last be written.
void
keeping_give(Page* page);

/// Wait until all of the session is written: before it ends.
void
keeping_wait(Page* page);

#endif // RESPONDER_PAGE_KEEPING_H
