/// @file responder/page/devices.h What sounds and what is played on, in words
/// for people, as it comes and goes.

#ifndef RESPONDER_PAGE_DEVICES_H
#define RESPONDER_PAGE_DEVICES_H

#include "responder/page/face.h"

/// Word why nothing sounds.
void
devices_no_sound(Page* page, const Fault* fault);

/// Word what there is as the page opens.
void
devices_word(Page* page);

/// Tell pages what has changed since.
void
devices_look(Page* page);

#endif // RESPONDER_PAGE_DEVICES_H
