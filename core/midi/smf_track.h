/// @file core/midi/smf_track.h The events of a file's tracks, put into lists.

#ifndef CORE_MIDI_SMF_TRACK_H
#define CORE_MIDI_SMF_TRACK_H

#include "core/midi/smf_chunks.h"

enum { SMF_N_VOICES = 16 * 128 }; // Channels and keys

/// The lists of a take, one for each kind of record.
typedef enum {
  SMF_NOTES,
  SMF_CONTROLS,
  SMF_TEMPOS,
  SMF_METERS,
  SMF_KEYS,
  SMF_TEXTS,
  SMF_TRACKS,
  SMF_N_LISTS,
} SmfListKind;

/// Records of SMF_RECORD_SIZE bytes; a zeroed one is empty.
typedef struct {
  void*  records; ///< Owned
  size_t n;
  size_t capacity;
} SmfList;

/// For each channel and key a queue of notes, held together by their lengths
/// (the next one's number) as long as they have none. A zeroed one is empty.
typedef struct {
  uint32_t first[SMF_N_VOICES]; ///< Number of a note plus 1; 0 if none
  uint32_t last[SMF_N_VOICES];
  size_t   n;
} SmfOpenNotes;

/// A file being read.
typedef struct {
  const uint8_t* file;
  SmfHeader      header;
  unsigned       us_per_quarter; ///< As for smf_read()
  SmfWarnings    warnings;
  SmfList        lists[SMF_N_LISTS];
  char*          strings; ///< With room for as many bytes as the file has
  size_t         n_string_bytes;
  size_t         n_events;
  const char*    damage; ///< Why a track was not read on, of the first; or NULL
  size_t         damage_offset;
  bool           no_memory; ///< Whether a list could not grow
  SmfOpenNotes   open;      ///< Of the track that is being read
} SmfReading;

/// Add a record to a list; NULL, with `no_memory` set, if there is none.
void*
smf_add(SmfReading* reading, SmfListKind list);

/// Read a track, its events in their order, behind those of the tracks before;
/// return the offset where it ends.
size_t
smf_track_read(SmfReading* reading, const SmfSpan* span);

#endif // CORE_MIDI_SMF_TRACK_H
