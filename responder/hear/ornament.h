/// @file responder/hear/ornament.h Notes that take no place in the rhythm.

#ifndef RESPONDER_HEAR_ORNAMENT_H
#define RESPONDER_HEAR_ORNAMENT_H

#include "core/tick.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>

/// Mark the notes short enough, by themselves and beside their neighbours, to
/// be crushed into the next, as grace notes are (acciaccature): `is_ornament`.
/// Marks that are there stay.
void
ornament_mark(Phrase* phrase, double ms_per_tick);

/**
   Take back the ornaments of notes that are written neither on a half of a beat
   nor on a third: what leads into those is a note of its own.

   @return Whether any was taken back.
*/
bool
ornament_unmark(Phrase* phrase, Tick beat_ticks);

/// Give every ornament the place of the note that it decorates.
void
ornament_place(Phrase* phrase);

#endif // RESPONDER_HEAR_ORNAMENT_H
