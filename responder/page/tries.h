/// @file responder/page/tries.h A development of a phrase, tried live: it is
/// played, the partner waits, and answers what comes of it.

#ifndef RESPONDER_PAGE_TRIES_H
#define RESPONDER_PAGE_TRIES_H

#include "responder/page/face.h"

/// Go on after a try that ended so.
void
tries_go_on(Page* page, const StageResult* result);

/// Let go of them: what they are made of is to go. One that is played ends.
void
tries_forget(Page* page);

// Request

json_t*
tries_try(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_TRIES_H
