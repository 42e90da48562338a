/// @file responder/page/save.h What is sent to a page as a file to keep.

#ifndef RESPONDER_PAGE_SAVE_H
#define RESPONDER_PAGE_SAVE_H

#include "responder/page/face.h"

/// Return a file as an answer, `file`, `type` and `base64`; NULL when it cannot
/// be read or there is no memory.
json_t*
save_answer(const char* path, const char* name, const char* type);

// Requests

json_t*
save_session(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_SAVE_H
