/// @file core/ports/jack_ports.h MIDI ports of a JACK server, by JACK's own
/// library.

#ifndef CORE_PORTS_JACK_PORTS_H
#define CORE_PORTS_JACK_PORTS_H

#include "core/attributes.h"
#include "core/ports/ports.h"
#include "core/status.h"

/**
   Open the ports of the server that runs; none is ever started.

   @param[out] ports Written on success only; give it to ports_close().
   @return STATUS_OK; STATUS_MEMORY; STATUS_SYSTEM if no server runs, or if this
   program was built without JACK.
*/
MUST_USE Status
jack_ports_open(Ports** ports);

#endif // CORE_PORTS_JACK_PORTS_H
