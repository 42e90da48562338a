#include "core/midi/smf_chunks.h"

#include <string.h>

enum {
  ID_SIZE     = 4,
  CHUNK_HEAD  = 8, // Name and length
  HEADER_SIZE = 6, // Format, number of tracks, division
};

static uint32_t
big_endian_32(const uint8_t* const bytes)
{
  return (uint32_t)bytes[0] << 24U | (uint32_t)bytes[1] << 16U |
         (uint32_t)bytes[2] << 8U | bytes[3];
}

static uint32_t
little_endian_32(const uint8_t* const bytes)
{
  return (uint32_t)bytes[3] << 24U | (uint32_t)bytes[2] << 16U |
         (uint32_t)bytes[1] << 8U | bytes[0];
}

static unsigned
big_endian_16(const uint8_t* const bytes)
{
  return (unsigned)bytes[0] << 8U | bytes[1];
}

static bool
has_id(const SmfChunks* const chunks, const size_t at, const char* const id)
{
  return chunks->end - at >= CHUNK_HEAD &&
         !memcmp(chunks->bytes + at, id, ID_SIZE);
}

// A chunk may have any name of four ASCII characters.
static bool
has_name(const SmfChunks* const chunks, const size_t at)
{
  if (chunks->end - at < CHUNK_HEAD) {
    return false;
  }
  for (size_t i = at; i < at + ID_SIZE; ++i) {
    if (chunks->bytes[i] < ' ' || chunks->bytes[i] > '~') {
      return false;
    }
  }
  return true;
}

static size_t
find_track(const SmfChunks* const chunks, size_t at)
{
  while (chunks->end - at >= CHUNK_HEAD) {
    const size_t   n     = chunks->end - at - (CHUNK_HEAD - 1);
    const uint8_t* start = chunks->bytes + at;
    const uint8_t* m     = memchr(start, 'M', n);
    if (!m) {
      break;
    }
    at += (size_t)(m - start);
    if (has_id(chunks, at, "MTrk")) {
      return at;
    }
    ++at;
  }
  return chunks->end;
}

// A RIFF file of type RMID holds the MIDI file in its chunk "data".
static void
unwrap_riff(SmfChunks* const chunks)
{
  if (!has_id(chunks, 0, "RIFF") || chunks->end < 12 ||
      memcmp(chunks->bytes + 8, "RMID", ID_SIZE) != 0) {
    return;
  }

  size_t at = 12;
  while (chunks->end - at >= CHUNK_HEAD) {
    const size_t left   = chunks->end - at - CHUNK_HEAD;
    const size_t length = little_endian_32(chunks->bytes + at + ID_SIZE);
    if (has_id(chunks, at, "data")) {
      chunks->at  = at + CHUNK_HEAD;
      chunks->end = chunks->at + (length < left ? length : left);
      return;
    }
    if (length + (length & 1U) > left) {
      return;
    }
    at += CHUNK_HEAD + length + (length & 1U);
  }
}

static Status
read_division(SmfHeader* const header,
              const unsigned   word,
              const size_t     at,
              Fault* const     fault)
{
  if (!(word & 0x8000U)) {
    header->ticks_per_quarter = word;
  } else {
    header->frames_per_second = 256U - (word >> 8U);
    header->ticks_per_frame   = word & 0xFFU;
  }

  const unsigned fps = header->frames_per_second;
  if (fps && fps != 24 && fps != 25 && fps != 29 && fps != 30) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: %u frames a second; 24, 25, 29 or 30 would be "
                     "right",
                     at,
                     fps);
  }
  if (!header->ticks_per_quarter && !header->ticks_per_frame) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: the division is 0; at least 1 tick is needed",
                     at);
  }
  return STATUS_OK;
}

static Status
read_format(SmfHeader* const header, const size_t at, Fault* const fault)
{
  if (header->format == 2) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: format 2, patterns that are not played "
                     "together; formats 0 and 1 are read",
                     at);
  }
  if (header->format > 2) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: format %u is unknown; formats 0 and 1 are read",
                     at,
                     header->format);
  }
  return STATUS_OK;
}

static Status
read_header(SmfChunks* const chunks,
            SmfHeader* const header,
            Fault* const     fault)
{
  const size_t at = chunks->at;
  if (!has_id(chunks, at, "MThd")) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: no MIDI file; one begins with MThd",
                     at);
  }

  const size_t   length = big_endian_32(chunks->bytes + at + ID_SIZE);
  const uint8_t* words  = chunks->bytes + at + CHUNK_HEAD;
  if (length < HEADER_SIZE || length > chunks->end - at - CHUNK_HEAD) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: a header of %zu bytes; it has 6, or more that "
                     "are there",
                     at + ID_SIZE,
                     length);
  }

  *header = (SmfHeader){
    .format   = big_endian_16(words),
    .n_tracks = big_endian_16(words + 2),
  };
  chunks->at        = at + CHUNK_HEAD + length;
  chunks->n_missing = header->n_tracks;

  const Status status = read_format(header, at + 8, fault);
  return status
           ? status
           : read_division(header, big_endian_16(words + 4), at + 12, fault);
}

static SmfSpan
track_span(const SmfChunks* const chunks, SmfWarnings* const warnings)
{
  const size_t length = big_endian_32(chunks->bytes + chunks->at + ID_SIZE);
  const size_t begin  = chunks->at + CHUNK_HEAD;
  const size_t left   = chunks->end - begin;

  if (length > left) {
    smf_warn(warnings,
             chunks->at + ID_SIZE,
             "a track of %zu bytes, and the file has %zu more",
             length,
             left);
    return (SmfSpan){begin, chunks->end, SIZE_MAX};
  }

  const size_t declared = begin + length;
  const bool   believed = length == left || has_name(chunks, declared);
  const size_t end      = believed ? declared : find_track(chunks, begin);
  return (SmfSpan){begin, end, declared};
}

static void
skip_alien(SmfChunks* const chunks, SmfWarnings* const warnings)
{
  const size_t length = big_endian_32(chunks->bytes + chunks->at + ID_SIZE);
  const size_t left   = chunks->end - chunks->at - CHUNK_HEAD;
  if (length > left) {
    smf_warn(warnings,
             chunks->at + ID_SIZE,
             "an unknown chunk of %zu bytes, and the file has %zu more",
             length,
             left);
    chunks->at = chunks->n_missing ? find_track(chunks, chunks->at + CHUNK_HEAD)
                                   : chunks->end;
  } else {
    chunks->at += CHUNK_HEAD + length;
  }
}

static void
skip_garbage(SmfChunks* const chunks, SmfWarnings* const warnings)
{
  const size_t next =
    chunks->n_missing ? find_track(chunks, chunks->at) : chunks->end;
  smf_warn(warnings,
           chunks->at,
           "bytes that are no chunk are left out: %zu",
           next - chunks->at);
  chunks->at = next;
}

Status
smf_chunks_open(SmfChunks* const     chunks,
                SmfHeader* const     header,
                const uint8_t* const bytes,
                const size_t         size,
                Fault* const         fault)
{
  if (size > UINT32_MAX) {
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "byte 0: a file of %zu bytes; %lu are the most",
                     size,
                     (unsigned long)UINT32_MAX);
  }

  *chunks = (SmfChunks){.bytes = bytes, .end = size};
  unwrap_riff(chunks);
  return read_header(chunks, header, fault);
}

bool
smf_chunks_next(SmfChunks* const   chunks,
                SmfSpan* const     track,
                SmfWarnings* const warnings)
{
  while (chunks->at < chunks->end) {
    if (has_id(chunks, chunks->at, "MTrk")) {
      *track = track_span(chunks, warnings);
      chunks->n_missing -= chunks->n_missing ? 1U : 0U;
      return true;
    }
    if (has_name(chunks, chunks->at)) {
      skip_alien(chunks, warnings);
    } else {
      skip_garbage(chunks, warnings);
    }
  }
  return false;
}

void
smf_chunks_leave(SmfChunks* const     chunks,
                 const SmfSpan* const track,
                 const size_t         at,
                 SmfWarnings* const   warnings)
{
  chunks->at = track->end;
  if (at != track->declared && track->declared <= chunks->end) {
    smf_warn(warnings,
             at,
             "the track ends here, and its length says byte %zu",
             track->declared);
  }
  if (at == track->declared || has_id(chunks, at, "MTrk")) {
    chunks->at = at;
  }
}
