/// @file responder/stage/held.h What is down at a keyboard, so that it can be
/// let go of when the keyboard is pulled out.
///
/// Threads: the input's calls held_note(); another may call held_release() once
/// the input is away, and nothing comes from it.

#ifndef RESPONDER_STAGE_HELD_H
#define RESPONDER_STAGE_HELD_H

#include "core/ports/ports.h"

#include <stdatomic.h>
#include <stdint.h>

enum { HELD_KEYS = 128 };

/// Zeroed, nothing is down.
typedef struct {
  atomic_uchar keys[HELD_KEYS]; ///< 1 + the channel; 0: up
  atomic_uchar pedal;           ///< The same of the sustain pedal
} Held;

/// Note what a message does.
void
held_note(Held* held, const MidiMessage* message);

/// Let everything go: as if a message had come from it now for each.
void
held_release(Held* held, PortReceiver receive, void* context);

#endif // RESPONDER_STAGE_HELD_H
