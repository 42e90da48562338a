/// @file core/midi/smf_bytes.h Bytes that grow while a file is made of them.

#ifndef CORE_MIDI_SMF_BYTES_H
#define CORE_MIDI_SMF_BYTES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// A zeroed one is empty. What was added once memory has failed is lost.
typedef struct {
  uint8_t* bytes; ///< Owned
  size_t   size;
  size_t   capacity;
  bool     failed;
} SmfBytes;

/// Add `size` bytes; they may be NULL if there are none.
void
smf_bytes_add(SmfBytes* bytes, const void* added, size_t size);

/// Add a number of two bytes, the higher first.
void
smf_bytes_add_16(SmfBytes* bytes, unsigned number);

/// Add a number of four bytes, the highest first.
void
smf_bytes_add_32(SmfBytes* bytes, uint32_t number);

/// Put a number in place of four bytes.
void
smf_bytes_set_32(SmfBytes* bytes, size_t at, uint32_t number);

/// Give back the memory.
void
smf_bytes_free(SmfBytes* bytes);

#endif // CORE_MIDI_SMF_BYTES_H
