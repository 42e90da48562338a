#include "core/midi/smf_chunks.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum {
  ID_SIZE     = 4,
  CHUNK_HEAD  = 8, // Name and length
  HEADER_SIZE = 6, // Format, number of tracks, division
};

void
smf_warn(SmfWarnings* const warnings,
         const size_t       offset,
         const char* const  format,
         ...)
{
  ++warnings->n_found;
  if (warnings->n < SMF_WARNINGS_CAPACITY) {
    SmfWarning* const warning = &warnings->items[warnings->n++];
    va_list           args;
    va_start(args, format);
    (void)vsnprintf(warning->text, sizeof(warning->text), format, args);
    va_end(args);
    warning->offset = (uint32_t)offset;
  }
}

Status
smf_refuse(Fault* const fault, const size_t offset, const char* const text)
{
  return fault_say(fault, STATUS_SYNTAX, "byte %zu: %s", offset, text);
}

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
    return smf_refuse(
      fault,
      at,
      "frames at an unknown rate; 24, 25, 29 or 30 a second would be right");
  }
  return header->ticks_per_quarter || header->ticks_per_frame
           ? STATUS_OK
           : smf_refuse(
               fault, at, "the division is 0; at least 1 tick is needed");
}

static Status
read_header(SmfChunks* const chunks,
            SmfHeader* const header,
            Fault* const     fault)
{
  const size_t at = chunks->at;
  if (!has_id(chunks, at, "MThd")) {
    return smf_refuse(fault, at, "no MIDI file; one begins with MThd");
  }

  const size_t   length = big_endian_32(chunks->bytes + at + ID_SIZE);
  const uint8_t* words  = chunks->bytes + at + CHUNK_HEAD;
  if (length < HEADER_SIZE || length > chunks->end - at - CHUNK_HEAD) {
    return smf_refuse(
      fault,
      at + ID_SIZE,
      "the header's length is wrong; it has 6 bytes, or more that are there");
  }

  *header = (SmfHeader){
    .format   = big_endian_16(words),
    .n_tracks = big_endian_16(words + 2),
  };
  chunks->at        = at + CHUNK_HEAD + length;
  chunks->n_missing = header->n_tracks;
  if (header->format > 1) {
    return smf_refuse(fault,
                      at + 8,
                      header->format == 2
                        ? "format 2, patterns that are not played together; "
                          "formats 0 and 1 are read"
                        : "an unknown format; formats 0 and 1 are read");
  }
  return read_division(header, big_endian_16(words + 4), at + 12, fault);
}

static SmfSpan
track_span(const SmfChunks* const chunks)
{
  const size_t length = big_endian_32(chunks->bytes + chunks->at + ID_SIZE);
  const size_t begin  = chunks->at + CHUNK_HEAD;
  const size_t left   = chunks->end - begin;

  if (length > left) {
    smf_warn(chunks->warnings,
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

// Pass a chunk of another kind, or bytes that are no chunk.
static void
skip(SmfChunks* const chunks)
{
  const size_t at = chunks->at;
  if (has_name(chunks, at)) {
    const size_t length = big_endian_32(chunks->bytes + at + ID_SIZE);
    if (length <= chunks->end - at - CHUNK_HEAD) {
      chunks->at += CHUNK_HEAD + length;
      return;
    }
  }
  chunks->at = chunks->n_missing ? find_track(chunks, at) : chunks->end;
  smf_warn(chunks->warnings,
           at,
           "bytes that are no chunk are left out: %zu",
           chunks->at - at);
}

Status
smf_chunks_open(SmfChunks* const chunks,
                SmfHeader* const header,
                Fault* const     fault)
{
  unwrap_riff(chunks);
  return read_header(chunks, header, fault);
}

bool
smf_chunks_next(SmfChunks* const chunks, SmfSpan* const track)
{
  while (chunks->at < chunks->end) {
    if (has_id(chunks, chunks->at, "MTrk")) {
      *track = track_span(chunks);
      chunks->n_missing -= chunks->n_missing ? 1U : 0U;
      return true;
    }
    skip(chunks);
  }
  return false;
}

void
smf_chunks_leave(SmfChunks* const     chunks,
                 const SmfSpan* const track,
                 const size_t         at)
{
  chunks->at = track->end;
  if (at != track->declared && track->declared <= chunks->end) {
    smf_warn(chunks->warnings,
             at,
             "the track ends here, and its length says byte %zu",
             track->declared);
  }
  if (at == track->declared || has_id(chunks, at, "MTrk")) {
    chunks->at = at;
  }
}
