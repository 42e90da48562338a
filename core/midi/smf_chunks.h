/// @file core/midi/smf_chunks.h The frame of a MIDI file: its header, and where
/// its tracks lie.
///
/// Nothing is allocated; the file's bytes stay the caller's and must outlive
/// the walk. A length that the file claims is never trusted beyond its end.

#ifndef CORE_MIDI_SMF_CHUNKS_H
#define CORE_MIDI_SMF_CHUNKS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf_reader.h"

#include <stdbool.h>

typedef struct {
  unsigned format;            ///< 0 or 1
  unsigned n_tracks;          ///< As announced
  unsigned ticks_per_quarter; ///< 0 if time is counted in frames
  unsigned frames_per_second; ///< 24, 25, 29 (that is 29.97) or 30; else 0
  unsigned ticks_per_frame;   ///< Not 0 if frames_per_second is not
} SmfHeader;

/// A walk from chunk to chunk.
typedef struct {
  const uint8_t* bytes;
  size_t         at;        ///< Where the next chunk should begin
  size_t         end;       ///< Of the file, or of what a RIFF file wraps
  unsigned       n_missing; ///< Tracks announced and not yet found
  SmfWarnings*   warnings;
} SmfChunks;

/// Where the events of one track lie, as offsets in the file.
typedef struct {
  size_t begin;
  size_t end;      ///< As far as its events may reach
  size_t declared; ///< Where its own length says it ends; may lie beyond `end`
} SmfSpan;

/// Add a warning; one too many is counted only.
__attribute__((format(printf, 3, 4))) void
smf_warn(SmfWarnings* warnings, size_t offset, const char* format, ...);

/// Fill in a fault `byte N: TEXT`, its file left empty; return STATUS_SYNTAX.
Status
smf_refuse(Fault* fault, size_t offset, const char* text);

/**
   Read the header and stand before the first chunk.

   A RIFF file of type RMID is looked into. More than 6 bytes of header are
   skipped.

   @param[in,out] chunks Holds the bytes, their end and the warnings.
   @return STATUS_OK; STATUS_SYNTAX with the fault filled if this is no MIDI
   file, of a format other than 0 or 1, or its division cannot be counted with.
*/
MUST_USE Status
smf_chunks_open(SmfChunks* chunks, SmfHeader* header, Fault* fault);

/**
   Find the next track; chunks of other kinds are skipped. Where no chunk is,
   the next MTrk is looked for as long as there are fewer than announced.

   A track's length is believed if a chunk, or the end of the file, follows it.
   If not, the track may reach to the next MTrk, or to the end of the file.

   @return False if there is none.
*/
bool
smf_chunks_next(SmfChunks* chunks, SmfSpan* track);

/**
   Go on after a track.

   @param at Just behind its End of Track; its `end` if it had none.
*/
void
smf_chunks_leave(SmfChunks* chunks, const SmfSpan* track, size_t at);

#endif // CORE_MIDI_SMF_CHUNKS_H
