/// @file responder/page/hear.h What is looked back on, heard again.

#ifndef RESPONDER_PAGE_HEAR_H
#define RESPONDER_PAGE_HEAR_H

#include "responder/page/face.h"

/// Hand on the notes that are due soon.
void
hear_look(Page* page);

/// Stop, if something is heard.
void
hear_stop(Page* page);

/// Hear `n` notes, rising, as the partner's.
void
hear_notes(Page* page, const Note* notes, unsigned n, double tempo_bpm);

// Requests

json_t*
hear_begin(Page* page, WireCall* call);

json_t*
hear_hush(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_HEAR_H
