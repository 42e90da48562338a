/// @file core/ports/jack_watch.h Whether the JACK server lives, and its ports.
///
/// Nothing else can tell: what is sent to a dead server is taken.

#ifndef CORE_PORTS_JACK_WATCH_H
#define CORE_PORTS_JACK_WATCH_H

#include "core/ports/ports.h"

#include <stdbool.h>

/// Opaque.
typedef struct JackWatch JackWatch;

/// Begin to watch; NULL if no server runs (none is ever started), or if this
/// program was built without JACK. Thread: one that makes and closes clients.
JackWatch*
jack_watch_open(void);

/// Stop; before any new client of JACK is made, after the others of a dead
/// server were closed. NULL does nothing.
void
jack_watch_close(JackWatch* watch);

/// Whether the server has not said that it ends. Thread: any.
bool
jack_watch_is_alive(const JackWatch* watch);

/// Add the names of the MIDI ports that one of this side can be connected to;
/// built with JACK only. Thread: the one that opened it.
void
jack_watch_list(JackWatch* watch, PortSide side, PortList* list);

#endif // CORE_PORTS_JACK_WATCH_H
