#include "core/midi/smf_writer.h"

#include "core/files/file.h"
#include "core/midi/smf_bytes.h"
#include "core/midi/smf_vlq.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum {
  N_TRACKS_MOST    = 16384, // That SmfNote can name
  RELEASE_VELOCITY = 64,    // Of keys that do not feel it: MIDI 1.0
};

// What comes first at one tick.
typedef enum { RANK_META, RANK_NOTE_END, RANK_CONTROL, RANK_NOTE } Rank;

typedef struct {
  Tick     tick;
  size_t   order; // In which it was added
  uint16_t track;
  uint8_t  rank;
  uint8_t  message[3]; // Of a meta event FF and its type
  uint32_t at;         // What a meta event holds, in the pool
  uint32_t length;
} Event;

struct SmfWriter {
  unsigned format;
  unsigned division;
  unsigned style;
  Status   status; // The first failure
  unsigned n_tracks;
  Tick*    ends; // By track, the earliest that was asked for
  size_t   ends_capacity;
  Event*   events;
  size_t   n_events;
  size_t   events_capacity;
  SmfBytes pool;
  SmfBytes file;
};

static void
fail(SmfWriter* const writer, const Status status)
{
  if (!writer->status) {
    writer->status = status;
  }
}

static void
add_event(SmfWriter* const writer, Event event)
{
  if (event.tick < 0 || event.track >= writer->n_tracks) {
    fail(writer, STATUS_RANGE);
  }
  if (writer->status) {
    return;
  }

  if (writer->n_events == writer->events_capacity) {
    const size_t more   = writer->events_capacity * 2 + 256;
    Event* const events = realloc(writer->events, more * sizeof(Event));
    if (!events) {
      fail(writer, STATUS_MEMORY);
      return;
    }
    writer->events          = events;
    writer->events_capacity = more;
  }
  event.order                        = writer->n_events;
  writer->events[writer->n_events++] = event;
}

static void
add_meta(SmfWriter* const     writer,
         const unsigned       track,
         const Tick           tick,
         const unsigned       type,
         const uint8_t* const bytes,
         const size_t         length)
{
  const size_t at = writer->pool.size;
  if (track >= writer->n_tracks || length > SMF_VLQ_MAX ||
      at + length > UINT32_MAX) {
    fail(writer, STATUS_RANGE);
    return;
  }
  smf_bytes_add(&writer->pool, bytes, length);
  if (writer->pool.failed) {
    fail(writer, STATUS_MEMORY);
  }
  add_event(writer,
            (Event){
              .tick    = tick,
              .track   = (uint16_t)track,
              .rank    = RANK_META,
              .message = {SMF_META, (uint8_t)type},
              .at      = (uint32_t)at,
              .length  = (uint32_t)length,
            });
}

static int
compare(const void* const left, const void* const right)
{
  const Event* const a = left;
  const Event* const b = right;
  if (a->track != b->track) {
    return a->track < b->track ? -1 : 1;
  }
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  if (a->rank != b->rank) {
    return a->rank < b->rank ? -1 : 1;
  }
  return a->order < b->order ? -1 : a->order > b->order;
}

static void
put_delta(SmfWriter* const writer, const Tick from, const Tick to)
{
  uint8_t        bytes[SMF_VLQ_CAPACITY];
  const unsigned n =
    to - from > SMF_VLQ_MAX ? 0 : smf_vlq_write(bytes, (uint32_t)(to - from));
  if (!n) {
    fail(writer, STATUS_RANGE);
  }
  smf_bytes_add(&writer->file, bytes, n);
}

static void
put_meta(SmfWriter* const writer, const Event* const event)
{
  uint8_t        length[SMF_VLQ_CAPACITY];
  const unsigned n = smf_vlq_write(length, event->length);
  smf_bytes_add(&writer->file, event->message, 2);
  smf_bytes_add(&writer->file, length, n);
  if (event->length) {
    smf_bytes_add(&writer->file, writer->pool.bytes + event->at, event->length);
  }
}

// Return the status that is in force after the event; 0 for none.
static uint8_t
put_event(SmfWriter* const   writer,
          const Event* const event,
          const uint8_t      running)
{
  const uint8_t status = event->message[0];
  if (status == SMF_META) {
    put_meta(writer, event);
    return 0;
  }

  const bool     is_short = (status & 0xE0U) == SMF_PROGRAM; // Cn and Dn
  const unsigned n        = is_short ? 2 : 3;
  const unsigned skipped =
    writer->style & SMF_RUNNING_STATUS && status == running ? 1 : 0;
  smf_bytes_add(&writer->file, event->message + skipped, n - skipped);
  return status;
}

// Write a track from its events, the first of which is `next`; return which one
// is the first of the next track.
static size_t
put_track(SmfWriter* const writer, const unsigned track, size_t next)
{
  static const uint8_t end_of_track[] = {SMF_META, SMF_META_END, 0};

  smf_bytes_add(&writer->file, "MTrk", 4);
  smf_bytes_add_32(&writer->file, 0);
  const size_t begin = writer->file.size;

  Tick    tick    = 0;
  uint8_t running = 0;
  for (; next < writer->n_events && writer->events[next].track == track;
       ++next) {
    const Event* const event = &writer->events[next];
    put_delta(writer, tick, event->tick);
    running = put_event(writer, event, running);
    tick    = event->tick;
  }
  const Tick end = writer->ends[track] > tick ? writer->ends[track] : tick;
  put_delta(writer, tick, end);
  smf_bytes_add(&writer->file, end_of_track, sizeof(end_of_track));
  smf_bytes_set_32(
    &writer->file, begin - 4, (uint32_t)(writer->file.size - begin));
  return next;
}

static void
put_file(SmfWriter* const writer)
{
  writer->file.size = 0;
  smf_bytes_add(&writer->file, "MThd", 4);
  smf_bytes_add_32(&writer->file, 6);
  smf_bytes_add_16(&writer->file, writer->format);
  smf_bytes_add_16(&writer->file, writer->n_tracks);
  smf_bytes_add_16(&writer->file, writer->division);

  size_t next = 0;
  for (unsigned track = 0; track < writer->n_tracks; ++track) {
    next = put_track(writer, track, next);
  }
  if (writer->file.failed) {
    fail(writer, STATUS_MEMORY);
  }
}

Status
smf_writer_open(SmfWriter** const writer,
                const unsigned    format,
                const unsigned    division,
                const unsigned    style)
{
  const bool counts_frames = division & 0x8000U;
  if (format > 1 || division > 0xFFFFU || !division ||
      (counts_frames && !(division & 0xFFU))) {
    return STATUS_RANGE;
  }

  SmfWriter* const made = calloc(1, sizeof(*made));
  if (!made) {
    return STATUS_MEMORY;
  }
  made->format   = format;
  made->division = division;
  made->style    = style;
  *writer        = made;
  return STATUS_OK;
}

void
smf_writer_close(SmfWriter* const writer)
{
  if (writer) {
    free(writer->ends);
    free(writer->events);
    smf_bytes_free(&writer->pool);
    smf_bytes_free(&writer->file);
    free(writer);
  }
}

unsigned
smf_writer_track(SmfWriter* const writer, const char* const name)
{
  const unsigned most = writer->format ? N_TRACKS_MOST : 1;
  if (writer->n_tracks >= most) {
    fail(writer, STATUS_RANGE);
    return 0;
  }

  if (writer->n_tracks == writer->ends_capacity) {
    const size_t more = writer->ends_capacity * 2 + 8;
    Tick* const  ends = realloc(writer->ends, more * sizeof(Tick));
    if (!ends) {
      fail(writer, STATUS_MEMORY);
      return 0;
    }
    writer->ends          = ends;
    writer->ends_capacity = more;
  }

  const unsigned track = writer->n_tracks++;
  writer->ends[track]  = 0;
  if (name && *name) {
    smf_writer_text(writer, track, 0, SMF_TRACK_NAME, name);
  }
  return track;
}

void
smf_writer_note(SmfWriter* const writer, const SmfNote note)
{
  if (!note.velocity || !note.length || note.tick > INT64_MAX - note.length) {
    fail(writer, STATUS_RANGE);
    return;
  }

  const bool by_velocity = writer->style & SMF_ENDS_AT_VELOCITY_0;
  Event      event       = {
               .tick    = note.tick,
               .track   = note.track,
               .rank    = RANK_NOTE,
               .message = {(uint8_t)(SMF_NOTE_ON | note.channel),
                           note.pitch,
                           note.velocity},
  };
  add_event(writer, event);

  event.tick += note.length;
  event.rank = RANK_NOTE_END;
  event.message[0] =
    by_velocity ? event.message[0] : (uint8_t)(SMF_NOTE_OFF | note.channel);
  event.message[2] = by_velocity ? 0 : RELEASE_VELOCITY;
  add_event(writer, event);
}

void
smf_writer_control(SmfWriter* const writer, const SmfControl control)
{
  if (control.status < 0xA0U || control.status >= SMF_SYSEX ||
      control.data[0] > 127 || control.data[1] > 127) {
    fail(writer, STATUS_RANGE);
    return;
  }
  add_event(writer,
            (Event){
              .tick    = control.tick,
              .track   = control.track,
              .rank    = RANK_CONTROL,
              .message = {control.status, control.data[0], control.data[1]},
            });
}

void
smf_writer_tempo(SmfWriter* const writer, const SmfTempo tempo)
{
  const uint32_t us = tempo.us_per_quarter;
  if (!us || us > 0xFFFFFFU) {
    fail(writer, STATUS_RANGE);
    return;
  }
  const uint8_t bytes[] = {
    (uint8_t)(us >> 16U), (uint8_t)(us >> 8U), (uint8_t)us};
  add_meta(writer, 0, tempo.tick, SMF_META_TEMPO, bytes, sizeof(bytes));
}

void
smf_writer_meter(SmfWriter* const writer, const SmfMeter meter)
{
  unsigned power = 0;
  while (power < 7 && 1U << power != meter.unit) {
    ++power;
  }
  if (!meter.beats || meter.beats > 255 || 1U << power != meter.unit) {
    fail(writer, STATUS_RANGE);
    return;
  }
  const uint8_t bytes[] = {(uint8_t)meter.beats,
                           (uint8_t)power,
                           meter.clocks_a_click,
                           meter.n32_per_quarter};
  add_meta(writer, 0, meter.tick, SMF_META_METER, bytes, sizeof(bytes));
}

void
smf_writer_key(SmfWriter* const writer, const SmfKey key)
{
  if (key.sharps < -7 || key.sharps > 7 || key.is_minor > 1) {
    fail(writer, STATUS_RANGE);
    return;
  }
  const uint8_t bytes[] = {(uint8_t)key.sharps, key.is_minor};
  add_meta(writer, 0, key.tick, SMF_META_KEY, bytes, sizeof(bytes));
}

void
smf_writer_text(SmfWriter* const  writer,
                const unsigned    track,
                const Tick        tick,
                const SmfTextKind kind,
                const char* const text)
{
  if (kind < SMF_TEXT || (unsigned)kind > 15) {
    fail(writer, STATUS_RANGE);
    return;
  }
  add_meta(writer, track, tick, kind, (const void*)text, strlen(text));
}

void
smf_writer_end(SmfWriter* const writer, const unsigned track, const Tick tick)
{
  if (track >= writer->n_tracks || tick < 0) {
    fail(writer, STATUS_RANGE);
  } else if (tick > writer->ends[track]) {
    writer->ends[track] = tick;
  }
}

Status
smf_writer_bytes(SmfWriter* const      writer,
                 const uint8_t** const bytes,
                 size_t* const         size)
{
  if (!writer->format && !writer->n_tracks) {
    fail(writer, STATUS_RANGE);
  }
  if (!writer->status) {
    if (writer->n_events) {
      qsort(writer->events, writer->n_events, sizeof(Event), compare);
    }
    put_file(writer);
  }
  if (!writer->status) {
    *bytes = writer->file.bytes;
    *size  = writer->file.size;
  }
  return writer->status;
}

Status
smf_writer_save(SmfWriter* const  writer,
                const char* const path,
                Fault* const      fault)
{
  const uint8_t* bytes  = NULL;
  size_t         size   = 0;
  const Status   status = smf_writer_bytes(writer, &bytes, &size);
  if (status) {
    return fault_set(fault,
                     status,
                     path,
                     0,
                     "the events make no MIDI file: %s",
                     status_text(status));
  }
  return file_save(path, bytes, size, FILE_OPEN, fault);
}
