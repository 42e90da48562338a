/// @file responder/page/save.h What is made into files: sessions to keep,
/// sheets.

#ifndef RESPONDER_PAGE_SAVE_H
#define RESPONDER_PAGE_SAVE_H

#include "responder/page/face.h"

// Requests

json_t*
save_session(Page* page, WireCall* call);

json_t*
save_sheet(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_SAVE_H
