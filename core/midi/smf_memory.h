/// @file core/midi/smf_memory.h Memory for as many notes as a large file has.

#ifndef CORE_MIDI_SMF_MEMORY_H
#define CORE_MIDI_SMF_MEMORY_H

#include "core/attributes.h"

#include <stddef.h>

/// Allocate memory, large pieces in large pages where the system has them: a
/// fresh process spends a third of its reading on faults of small ones. NULL if
/// there is none. The caller's: free().
MUST_USE void*
smf_memory(size_t size);

#endif // CORE_MIDI_SMF_MEMORY_H
