/// @file responder/page/warm_up.h The place where the day's warm-up stands.

#ifndef RESPONDER_PAGE_WARM_UP_H
#define RESPONDER_PAGE_WARM_UP_H

#include "responder/page/face.h"

/// Answer, later, with the plan: `minutes`, and `items`: `number`, `name`,
/// `words`, `minutes`, `staff`.
json_t*
warm_up_plan(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_WARM_UP_H
