/// @file responder/page/controls.h The controls of what is played live: the
/// requests that end it, let it stand still, and let it be otherwise from the
/// next turn on.

#ifndef RESPONDER_PAGE_CONTROLS_H
#define RESPONDER_PAGE_CONTROLS_H

#include "responder/page/face.h"

json_t*
controls_stop(Page* page, WireCall* call);

json_t*
controls_again(Page* page, WireCall* call);

json_t*
controls_skip(Page* page, WireCall* call);

json_t*
controls_pause(Page* page, WireCall* call);

json_t*
controls_go_on(Page* page, WireCall* call);

json_t*
controls_slower(Page* page, WireCall* call);

json_t*
controls_faster(Page* page, WireCall* call);

json_t*
controls_easier(Page* page, WireCall* call);

json_t*
controls_harder(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_CONTROLS_H
