/// @file core/midi/smf_warnings.h What was wrong with a file that was read all
/// the same.

#ifndef CORE_MIDI_SMF_WARNINGS_H
#define CORE_MIDI_SMF_WARNINGS_H

#include <stddef.h>
#include <stdint.h>

enum { SMF_WARNINGS_CAPACITY = 16 };

typedef struct {
  uint32_t offset; ///< Byte in the file, from 0
  char     text[124];
} SmfWarning;

/// The first warnings in the order of the file, and how many there were.
typedef struct {
  SmfWarning items[SMF_WARNINGS_CAPACITY];
  size_t     n;       ///< Items that are filled in
  size_t     n_found; ///< All, with those that found no room
} SmfWarnings;

/// Add a warning; one too many is counted only. NULL takes none.
__attribute__((format(printf, 3, 4))) void
smf_warn(SmfWarnings* warnings, size_t offset, const char* format, ...);

#endif // CORE_MIDI_SMF_WARNINGS_H
