/// @file responder/hear/breath.h Where a phrase begins.

#ifndef RESPONDER_HEAR_BREATH_H
#define RESPONDER_HEAR_BREATH_H

#include "core/attributes.h"
#include "responder/hear/phrase.h"

/// Mark the notes that begin a phrase, the first one always.
RT_SAFE void
breath_mark(Phrase* phrase, double ms_per_tick);

#endif // RESPONDER_HEAR_BREATH_H
