/// @file responder/page/look_back.h The place where one looks back on what was
/// played.

#ifndef RESPONDER_PAGE_LOOK_BACK_H
#define RESPONDER_PAGE_LOOK_BACK_H

#include "responder/page/face.h"

/// Return what is looked back on, if the first field names it; else NULL with
/// the fault written.
const Recall*
look_back_at(const Page* page, WireCall* call);

/// Return the turn of it that the second field names; else NULL with the fault
/// written.
const TurnRecord*
look_back_turn(const Page* page, WireCall* call);

/// Begin to hear a file that was brought in, and answer when it is. The path
/// is removed then. Return NULL.
json_t*
look_back_take(Page* page, const char* path, WireCall* call);

/// Look back on nothing any more.
void
look_back_forget(Page* page);

// Requests

json_t*
look_back_list(Page* page, WireCall* call);

json_t*
look_back_open(Page* page, WireCall* call);

json_t*
look_back_staff(Page* page, WireCall* call);

json_t*
look_back_keep(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_LOOK_BACK_H
