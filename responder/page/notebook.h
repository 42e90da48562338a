/// @file responder/page/notebook.h The notebook of who plays: the ideas that
/// were kept.

#ifndef RESPONDER_PAGE_NOTEBOOK_H
#define RESPONDER_PAGE_NOTEBOOK_H

#include "responder/page/face.h"

// Requests

json_t*
notebook_list(Page* page, WireCall* call);

json_t*
notebook_rename(Page* page, WireCall* call);

json_t*
notebook_remove(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_NOTEBOOK_H
