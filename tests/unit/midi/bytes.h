/// @file tests/unit/midi/bytes.h Files for the tests, spelled in hexadecimal.

#ifndef TESTS_UNIT_MIDI_BYTES_H
#define TESTS_UNIT_MIDI_BYTES_H

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BYTES_CAPACITY = 1024 };

typedef struct {
  uint8_t bytes[BYTES_CAPACITY];
  size_t  size;
} Bytes;

/// Add bytes spelled in hexadecimal, two digits each, blanks between.
static inline void
bytes_add(Bytes* const bytes, const char* const hex)
{
  char* rest = NULL;
  for (const char* at = hex; *at; at = rest + strspn(rest, " ")) {
    const unsigned long byte = strtoul(at, &rest, 16);
    if (rest == at || byte > 0xFF || bytes->size == BYTES_CAPACITY) {
      (void)fprintf(stderr, "no bytes: %s\n", hex);
      abort();
    }
    bytes->bytes[bytes->size++] = (uint8_t)byte;
  }
}

/// Return the bytes that a text spells.
static inline Bytes
bytes_of(const char* const hex)
{
  Bytes bytes = {.size = 0};
  bytes_add(&bytes, hex);
  return bytes;
}

/// Return a file of format 0, 96 ticks to the quarter, with one track; its
/// events begin at byte 22.
static inline Bytes
bytes_of_track(const char* const hex)
{
  Bytes bytes = bytes_of("4D 54 68 64 00 00 00 06 00 00 00 01 00 60 "
                         "4D 54 72 6B 00 00 00 00");
  bytes_add(&bytes, hex);
  bytes.bytes[20] = (uint8_t)((bytes.size - 22) >> 8U);
  bytes.bytes[21] = (uint8_t)(bytes.size - 22);
  return bytes;
}

/// The two worked examples at the end of Standard MIDI Files 1.0, RP-001.
#define RP001_FORMAT_0                                                         \
  "4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B 00 00 00 3B "         \
  "00 FF 58 04 04 02 18 08 00 FF 51 03 07 A1 20 00 C0 05 00 C1 2E 00 C2 46 "   \
  "00 92 30 60 00 3C 60 60 91 43 40 60 90 4C 20 81 40 82 30 40 00 3C 40 "      \
  "00 81 43 40 00 80 4C 40 00 FF 2F 00"
#define RP001_FORMAT_1                                                         \
  "4D 54 68 64 00 00 00 06 00 01 00 04 00 60 4D 54 72 6B 00 00 00 14 "         \
  "00 FF 58 04 04 02 18 08 00 FF 51 03 07 A1 20 83 00 FF 2F 00 "               \
  "4D 54 72 6B 00 00 00 10 00 C0 05 81 40 90 4C 20 81 40 4C 00 00 FF 2F 00 "   \
  "4D 54 72 6B 00 00 00 0F 00 C1 2E 60 91 43 40 82 20 43 00 00 FF 2F 00 "      \
  "4D 54 72 6B 00 00 00 15 00 C2 46 00 92 30 60 00 3C 60 83 00 30 00 "         \
  "00 3C 00 00 FF 2F 00"

#endif // TESTS_UNIT_MIDI_BYTES_H
