/// @file responder/session/agenda.h Notes decided and not yet played.

#ifndef RESPONDER_SESSION_AGENDA_H
#define RESPONDER_SESSION_AGENDA_H

#include "core/band/band.h"
#include "core/tick.h"

#include <stdbool.h>

enum { AGENDA_CAPACITY = 1024 };

/// A queue in the order of ticks; zeroed, it is empty.
typedef struct {
  unsigned n_notes;
  PartNote notes[AGENDA_CAPACITY]; ///< Falling by tick: the next one is last
} Agenda;

/// Add a note; after those of the same tick. There must be room.
void
agenda_add(Agenda* agenda, PartNote note);

/// Take the next note if it begins before a tick.
bool
agenda_take(Agenda* agenda, Tick before, PartNote* note);

#endif // RESPONDER_SESSION_AGENDA_H
