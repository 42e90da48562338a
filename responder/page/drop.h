/// @file responder/page/drop.h A file that is dropped on a page, part by part.

#ifndef RESPONDER_PAGE_DROP_H
#define RESPONDER_PAGE_DROP_H

#include "responder/page/face.h"

enum { DROP_MOST = 4 * 1024 * 1024 }; ///< Bytes

json_t*
drop_begin(Page* page, WireCall* call);

json_t*
drop_part(Page* page, WireCall* call);

/// Look back on it, or hear it.
json_t*
drop_end(Page* page, WireCall* call);

/// End it and take it; false with the fault written.
/// @param[out] path Where it is, the caller's to remove.
bool
drop_take(Page* page, char path[FACE_NAME], WireCall* call);

/// Let go of one that was not ended.
void
drop_forget(Page* page);

#endif // RESPONDER_PAGE_DROP_H
