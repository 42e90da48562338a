/// @file responder/hear/target.h The note that a phrase aims at.

#ifndef RESPONDER_HEAR_TARGET_H
#define RESPONDER_HEAR_TARGET_H

#include "core/music/meter.h"
#include "responder/hear/phrase.h"

/// Return the index of the target, PHRASE_NO_TARGET if there are no notes.
/// Roles, written places and phrase beginnings must be known.
unsigned
target_find(const Phrase* phrase, Meter meter);

#endif // RESPONDER_HEAR_TARGET_H
