/// @file core/midi/smf_file.h Whole files into memory.

#ifndef CORE_MIDI_SMF_FILE_H
#define CORE_MIDI_SMF_FILE_H

#include "core/attributes.h"
#include "core/fault.h"

#include <stdint.h>

/// The largest file that is read.
#define SMF_FILE_LIMIT ((size_t)64 * 1024 * 1024)

/**
   Read a whole file.

   @param[out] bytes The caller's, to be given to free(); untouched on failure.
   @param[out] size At least 1.
   @param[out] fault Filled on failure.
   @return STATUS_OK; STATUS_MISSING if there is none; STATUS_RANGE if it is a
   directory or the like, empty, or larger than SMF_FILE_LIMIT; STATUS_MEMORY;
   STATUS_SYSTEM if it cannot be read.
*/
MUST_USE Status
smf_file_read(const char* path, uint8_t** bytes, size_t* size, Fault* fault);

#endif // CORE_MIDI_SMF_FILE_H
