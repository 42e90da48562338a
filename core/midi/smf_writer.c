#include "core/midi/smf_writer.h"

#include "core/files/file.h"
#include "core/midi/smf_vlq.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>

enum {
  RELEASE_VELOCITY = 64, // Of keys that do not feel it: MIDI 1.0
};

// What comes first at one tick.
typedef enum { RANK_META, RANK_NOTE_END, RANK_CONTROL, RANK_NOTE } Rank;

typedef struct {
  Tick     tick;
  size_t   order; // In which it was added
  uint16_t track;
  uint8_t  rank;
  uint8_t  message[3]; // Of a meta event FF and its type
  uint32_t length;
  uint8_t* held; // What a meta event holds; owned, or NULL
} Event;

struct SmfWriter {
  unsigned format;
  unsigned division;
  unsigned style;
  Status   status; // The first failure
  unsigned n_tracks;
  Tick     ends[SMF_TRACK_CAPACITY]; // The earliest that was asked for
  Event*   events;
  size_t   n_events;
  size_t   events_capacity;
  char*    file;
  size_t   file_size;
};

static void
fail(SmfWriter* const writer, const Status status)
{
  if (!writer->status) {
    writer->status = status;
  }
}

static bool
grow(SmfWriter* const writer)
{
  if (writer->n_events < writer->events_capacity) {
    return true;
  }
  const size_t more   = writer->events_capacity * 2 + 256;
  Event* const events = realloc(writer->events, more * sizeof(Event));
  if (events) {
    writer->events          = events;
    writer->events_capacity = more;
  }
  return events;
}

// Add an event that may hold some bytes.
static void
add_event(SmfWriter* const     writer,
          Event                event,
          const unsigned       track,
          const uint8_t* const bytes)
{
  if (event.tick < 0 || track >= writer->n_tracks ||
      event.length > SMF_VLQ_MAX) {
    fail(writer, STATUS_RANGE);
  }
  if (writer->status) {
    return;
  }

  event.track = (uint16_t)track;
  event.order = writer->n_events;
  event.held  = bytes ? malloc(event.length + 1U) : NULL;
  if ((bytes && !event.held) || !grow(writer)) {
    free(event.held);
    fail(writer, STATUS_MEMORY);
    return;
  }
  if (bytes) {
    memcpy(event.held, bytes, event.length);
  }
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
  const Event event = {
    .tick    = tick,
    .rank    = RANK_META,
    .message = {SMF_META, (uint8_t)type},
    .length  = length < UINT32_MAX ? (uint32_t)length : UINT32_MAX,
  };
  add_event(writer, event, track, bytes);
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
put(FILE* const file, const void* const bytes, const size_t size)
{
  (void)fwrite(bytes, 1, size, file); // A failure marks the stream
}

// Put a number of `n` bytes, the highest first.
static void
put_number(FILE* const file, const size_t number, const unsigned n)
{
  for (unsigned i = n; i--;) {
    (void)fputc((int)(number >> (8U * i) & 0xFFU), file);
  }
}

static void
put_vlq(FILE* const file, const uint32_t number)
{
  uint8_t bytes[SMF_VLQ_CAPACITY];
  put(file, bytes, smf_vlq_write(bytes, number));
}

static void
put_delta(SmfWriter* const writer,
          FILE* const      file,
          const Tick       from,
          const Tick       to)
{
  if (to - from > SMF_VLQ_MAX) {
    fail(writer, STATUS_RANGE);
  } else {
    put_vlq(file, (uint32_t)(to - from));
  }
}

// Return the status that is in force after the event; 0 for none.
static uint8_t
put_event(FILE* const file, const Event* const event, const uint8_t running)
{
  const uint8_t status = event->message[0];
  if (status == SMF_META) {
    put(file, event->message, 2);
    put_vlq(file, event->length);
    put(file, event->held, event->length);
    return 0;
  }
  const unsigned skipped = status == running ? 1 : 0;
  const unsigned n       = smf_has_two(status) ? 3 : 2;
  put(file, event->message + skipped, n - skipped);
  return status;
}

// Write a track from its events, the first of which is `next`; return which one
// is the first of the next track.
static size_t
put_track(SmfWriter* const writer,
          FILE* const      file,
          const unsigned   track,
          size_t           next)
{
  static const uint8_t end_of_track[] = {SMF_META, SMF_META_END, 0};

  put(file, "MTrk", 4);
  put_number(file, 0, 4);
  const off_t begin = ftello(file);

  Tick    tick    = 0;
  uint8_t running = 0;
  for (; next < writer->n_events && writer->events[next].track == track;
       ++next) {
    const Event* const event = &writer->events[next];
    put_delta(writer, file, tick, event->tick);
    running = put_event(file, event, running);
    running = writer->style & SMF_RUNNING_STATUS ? running : 0;
    tick    = event->tick;
  }
  const Tick end = writer->ends[track] > tick ? writer->ends[track] : tick;
  put_delta(writer, file, tick, end);
  put(file, end_of_track, sizeof(end_of_track));

  const off_t behind = ftello(file);
  (void)fseeko(file, begin - 4, SEEK_SET);
  put_number(file, (size_t)(behind - begin), 4);
  (void)fseeko(file, behind, SEEK_SET);
  return next;
}

static void
put_file(SmfWriter* const writer)
{
  free(writer->file);
  writer->file     = NULL;
  FILE* const file = open_memstream(&writer->file, &writer->file_size);
  if (!file) {
    fail(writer, STATUS_MEMORY);
    return;
  }

  put(file, "MThd", 4);
  put_number(file, 6, 4);
  put_number(file, writer->format, 2);
  put_number(file, writer->n_tracks, 2);
  put_number(file, writer->division, 2);
  size_t next = 0;
  for (unsigned track = 0; track < writer->n_tracks; ++track) {
    next = put_track(writer, file, track, next);
  }
  const bool is_good = !ferror(file);
  if (fclose(file) || !is_good) {
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
    for (size_t i = 0; i < writer->n_events; ++i) {
      free(writer->events[i].held);
    }
    free(writer->events);
    free(writer->file);
    free(writer);
  }
}

unsigned
smf_writer_track(SmfWriter* const writer, const char* const name)
{
  const unsigned most = writer->format ? SMF_TRACK_CAPACITY : 1;
  if (writer->n_tracks >= most) {
    fail(writer, STATUS_RANGE);
    return 0;
  }

  const unsigned track = writer->n_tracks++;
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
               .rank    = RANK_NOTE,
               .message = {(uint8_t)(MIDI_NOTE_ON | note.channel),
                           note.pitch,
                           note.velocity},
  };
  add_event(writer, event, note.track, NULL);

  event.tick += note.length;
  event.rank = RANK_NOTE_END;
  event.message[0] =
    by_velocity ? event.message[0] : (uint8_t)(MIDI_NOTE_OFF | note.channel);
  event.message[2] = by_velocity ? 0 : RELEASE_VELOCITY;
  add_event(writer, event, note.track, NULL);
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
              .rank    = RANK_CONTROL,
              .message = {control.status, control.data[0], control.data[1]},
            },
            control.track,
            NULL);
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
    *bytes = (const void*)writer->file;
    *size  = writer->file_size;
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
    return fault_in(fault,
                    status,
                    path,
                    "the events make no MIDI file: %s",
                    status_text(status));
  }
  return file_save(path, bytes, size, FILE_OPEN, fault);
}
