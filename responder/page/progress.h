/// @file responder/page/progress.h The place where one sees the way come.

#ifndef RESPONDER_PAGE_PROGRESS_H
#define RESPONDER_PAGE_PROGRESS_H

#include "responder/page/face.h"

// Request

json_t*
progress_show(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_PROGRESS_H
