/// @file responder/hear/breath.h Where a phrase begins.

#ifndef RESPONDER_HEAR_BREATH_H
#define RESPONDER_HEAR_BREATH_H

#include "responder/hear/phrase.h"

/// Mark the notes that begin a phrase, the first one always.
void
breath_mark(Phrase* phrase, double ms_per_tick);

#endif // RESPONDER_HEAR_BREATH_H
