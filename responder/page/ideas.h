/// @file responder/page/ideas.h The place where a phrase is developed, and the
/// notebook.

#ifndef RESPONDER_PAGE_IDEAS_H
#define RESPONDER_PAGE_IDEAS_H

#include "responder/page/face.h"

/// Engrave a phrase that lies on a desk; as staves_engrave().
json_t*
ideas_staff(const Desk* desk, const Phrase* phrase, bool by_player);

// Requests

json_t*
ideas_develop(Page* page, WireCall* call);

json_t*
ideas_keep(Page* page, WireCall* call);

json_t*
ideas_hear(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_IDEAS_H
