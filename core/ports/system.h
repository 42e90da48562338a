/// @file core/ports/system.h The machine's own MIDI ports, by RtMidi.

#ifndef CORE_PORTS_SYSTEM_H
#define CORE_PORTS_SYSTEM_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/ports/ports.h"
#include "core/status.h"

enum { SYSTEM_REMARK_CAPACITY = 160 };

/**
   Open the first MIDI system that works: ALSA, JACK, CoreMIDI or Windows, as
   RtMidi was built.

   No JACK server is started. What these systems print on standard error is
   kept back.

   @param wanted A system's name (`alsa`, `jack`, `core`, `winmm`); NULL for
   any.
   @param[out] ports Written on success only; give it to ports_close().
   @param[out] remark What did not open; empty if all is well.
   @return STATUS_OK; STATUS_SYSTEM, STATUS_MISSING if there is none of the
   wanted name, or STATUS_MEMORY, with the fault written.
*/
MUST_USE Status
system_open(Ports**     ports,
            const char* wanted,
            char        remark[SYSTEM_REMARK_CAPACITY],
            Fault*      fault);

#endif // CORE_PORTS_SYSTEM_H
