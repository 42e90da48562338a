/// @file tests/support/loop.h Ports in memory: what a test plays arrives at an
/// input, what is sent to an output is kept to be looked at.
///
/// Threads: any; a lock is held inside.

#ifndef TESTS_SUPPORT_LOOP_H
#define TESTS_SUPPORT_LOOP_H

#include "core/attributes.h"
#include "core/ports/ports.h"

/// Make a system with no ports yet; STATUS_OK or STATUS_MEMORY.
MUST_USE Status
loop_open(Ports** ports);

/// Plug in a device.
void
loop_plug(Ports* ports, PortSide side, const char* name);

/// Pull it out; who had it open hears and sends nothing more.
void
loop_pull(Ports* ports, PortSide side, const char* name);

/// Let the whole system die.
void
loop_kill(Ports* ports);

/// Let bytes arrive from a device, or at an own input of this name.
void
loop_play(Ports* ports, const char* name, const uint8_t* bytes, size_t size);

/// Take the oldest message that was sent to any output; false if there is none.
bool
loop_take(Ports* ports, MidiMessage* message);

#endif // TESTS_SUPPORT_LOOP_H
