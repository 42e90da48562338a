/// @file responder/hear/ornament.h Notes that take no place in the rhythm.

#ifndef RESPONDER_HEAR_ORNAMENT_H
#define RESPONDER_HEAR_ORNAMENT_H

#include "core/attributes.h"
#include "responder/hear/phrase.h"

/// Mark the notes short enough, by themselves and beside the next, to be
/// crushed into it: `is_ornament`.
RT_SAFE void
ornament_mark(Phrase* phrase, double ms_per_tick);

/// Give every ornament the place of the note that it decorates.
RT_SAFE void
ornament_place(Phrase* phrase);

#endif // RESPONDER_HEAR_ORNAMENT_H
