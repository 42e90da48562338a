/// @file responder/page/warm_up.h The place where one warms up: the plan of a
/// day, and its exercises live, one after the other.

#ifndef RESPONDER_PAGE_WARM_UP_H
#define RESPONDER_PAGE_WARM_UP_H

#include "responder/page/face.h"

/// Forget a plan; NULL does nothing.
void
warm_up_free(WarmUp* warm_up);

/// Go on after an exercise, or the rounds of one, that ended so.
void
warm_up_go_on(Page* page, const StageResult* result);

/// Let what comes next be at another tempo.
void
warm_up_tempo(Page* page, double tempo_bpm);

// Requests

json_t*
warm_up_plan(Page* page, WireCall* call);

json_t*
warm_up_begin(Page* page, WireCall* call);

json_t*
warm_up_shorter(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_WARM_UP_H
