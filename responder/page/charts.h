/// @file responder/page/charts.h The place where charts are read, written,
/// checked and kept.

#ifndef RESPONDER_PAGE_CHARTS_H
#define RESPONDER_PAGE_CHARTS_H

#include "responder/page/face.h"

json_t*
charts_list(Page* page, WireCall* call);

json_t*
charts_read(Page* page, WireCall* call);

json_t*
charts_look(Page* page, WireCall* call);

json_t*
charts_keep(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_CHARTS_H
