// Makes a Standard MIDI File (RP-001) out of lines, for tests: a writer of its
// own, so that what it makes does not lean on what is tested.
//
//   make_take FILE.mid < lines
//
//   division N                            ticks a quarter; first, else 960
//   track NAME                            begins a track
//   tempo TICK US_PER_QUARTER
//   control TICK CHANNEL NUMBER VALUE
//   note TICK LENGTH PITCH VELOCITY CHANNEL
//
// Lines of a track stand in any order; at one tick ends come first.

#include <inttypes.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { EVENT_BYTES = 8, LINE_CAPACITY = 256, LONGEST_DELTA = 0x0FFFFFFF };

typedef struct {
  uint64_t tick;
  size_t   place; // In which it was given; orders those of one tick
  uint8_t  size;
  uint8_t  bytes[EVENT_BYTES];
} Event;

typedef struct {
  unsigned division;
  unsigned n_tracks;
  size_t   n_events; // Of the track at hand
  size_t   capacity;
  Event*   events;
  char     name[LINE_CAPACITY];
  size_t   size; // Of all tracks, as they will be written
  size_t   room;
  uint8_t* bytes;
} Maker;

static void*
grown(void* const memory, const size_t size)
{
  void* const more = realloc(memory, size);
  if (!more) {
    (void)fputs("make_take: no memory\n", stderr);
    exit(3);
  }
  return more;
}

static void
put(Maker* const maker, const void* const bytes, const size_t size)
{
  if (maker->size + size > maker->room) {
    maker->room  = 2 * (maker->room + size);
    maker->bytes = grown(maker->bytes, maker->room);
  }
  memcpy(maker->bytes + maker->size, bytes, size);
  maker->size += size;
}

static void
put_delta(Maker* const maker, const uint32_t delta)
{
  uint8_t  bytes[4];
  unsigned n    = 4;
  uint32_t left = delta;
  bytes[--n]    = left & 0x7FU;
  while (left >>= 7U) {
    bytes[--n] = (uint8_t)(0x80U | (left & 0x7FU));
  }
  put(maker, bytes + n, 4 - n);
}

// A gap beyond four bytes is filled with empty texts
static void
put_gap(Maker* const maker, uint64_t gap)
{
  static const uint8_t empty_text[] = {0xFF, 0x01, 0x00};
  while (gap > LONGEST_DELTA) {
    put_delta(maker, LONGEST_DELTA);
    put(maker, empty_text, sizeof(empty_text));
    gap -= LONGEST_DELTA;
  }
  put_delta(maker, (uint32_t)gap);
}

static int
compare_events(const void* const left, const void* const right)
{
  const Event* const a      = left;
  const Event* const b      = right;
  const int          is_end = (b->bytes[0] & 0xF0) == 0x80;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  if (((a->bytes[0] & 0xF0) == 0x80) != is_end) {
    return is_end ? 1 : -1;
  }
  return a->place < b->place ? -1 : 1;
}

static void
put_track(Maker* const maker)
{
  static const uint8_t end[] = {0x00, 0xFF, 0x2F, 0x00};
  const size_t         head  = maker->size;
  put(maker, "MTrk....", 8);
  if (maker->name[0]) {
    const uint8_t name[] = {0x00, 0xFF, 0x03, (uint8_t)strlen(maker->name)};
    put(maker, name, sizeof(name));
    put(maker, maker->name, strlen(maker->name));
  }
  if (maker->n_events) {
    qsort(maker->events, maker->n_events, sizeof(Event), compare_events);
  }
  uint64_t now = 0;
  for (size_t i = 0; i < maker->n_events; ++i) {
    const Event* const event = &maker->events[i];
    put_gap(maker, event->tick - now);
    put(maker, event->bytes, event->size);
    now = event->tick;
  }
  put(maker, end, sizeof(end));
  const size_t length = maker->size - head - 8;
  for (unsigned i = 0; i < 4; ++i) {
    maker->bytes[head + 4 + i] = (uint8_t)(length >> (24 - 8 * i));
  }
  maker->n_events = 0;
}

static void
add(Maker* const         maker,
    const uint64_t       tick,
    const uint8_t* const bytes,
    const unsigned       size)
{
  if (maker->n_events == maker->capacity) {
    maker->capacity = 2 * maker->capacity + 256;
    maker->events   = grown(maker->events, maker->capacity * sizeof(Event));
  }
  Event* const event = &maker->events[maker->n_events];
  *event =
    (Event){.tick = tick, .place = maker->n_events++, .size = (uint8_t)size};
  memcpy(event->bytes, bytes, size);
}

static int
read_line(Maker* const maker, const char* const line)
{
  uint64_t tick = 0, length = 0;
  unsigned a = 0, b = 0, c = 0;
  if (sscanf(line, "division %u", &maker->division) == 1) {
    return 1;
  }
  if (strncmp(line, "track", 5) == 0) {
    if (maker->n_tracks++) {
      put_track(maker);
    }
    maker->name[0] = '\0';
    (void)sscanf(line, "track %99s", maker->name);
    return 1;
  }
  if (sscanf(line, "tempo %" SCNu64 " %u", &tick, &a) == 2) {
    const uint8_t bytes[] = {
      0xFF, 0x51, 0x03, (uint8_t)(a >> 16U), (uint8_t)(a >> 8U), (uint8_t)a};
    add(maker, tick, bytes, sizeof(bytes));
    return 1;
  }
  if (sscanf(line, "control %" SCNu64 " %u %u %u", &tick, &a, &b, &c) == 4) {
    const uint8_t bytes[] = {
      (uint8_t)(0xB0U | a), (uint8_t)(b & 0x7FU), (uint8_t)(c & 0x7FU)};
    add(maker, tick, bytes, sizeof(bytes));
    return 1;
  }
  unsigned channel = 0;
  if (sscanf(line,
             "note %" SCNu64 " %" SCNu64 " %u %u %u",
             &tick,
             &length,
             &a,
             &b,
             &channel) == 5) {
    const uint8_t on[] = {
      (uint8_t)(0x90U | channel), (uint8_t)(a & 0x7FU), (uint8_t)(b & 0x7FU)};
    const uint8_t off[] = {
      (uint8_t)(0x80U | channel), (uint8_t)(a & 0x7FU), 64};
    add(maker, tick, on, sizeof(on));
    add(maker, tick + length, off, sizeof(off));
    return 1;
  }
  return line[0] == '\n';
}

static int
save(const Maker* const maker, const char* const path)
{
  const uint8_t head[] = {'M',
                          'T',
                          'h',
                          'd',
                          0,
                          0,
                          0,
                          6,
                          0,
                          1,
                          (uint8_t)(maker->n_tracks >> 8U),
                          (uint8_t)maker->n_tracks,
                          (uint8_t)(maker->division >> 8U),
                          (uint8_t)maker->division};
  FILE* const   file   = fopen(path, "wb");
  if (!file) {
    perror(path);
    return 3;
  }
  const int is_good = fwrite(head, sizeof(head), 1, file) == 1 &&
                      fwrite(maker->bytes, maker->size, 1, file) == 1;
  return fclose(file) == 0 && is_good ? 0 : 3;
}

int
main(const int argc, char** const argv)
{
  Maker maker = {.division = 960};
  char  line[LINE_CAPACITY];
  if (argc != 2) {
    (void)fputs("make_take FILE.mid < lines\n", stderr);
    return 2;
  }
  while (fgets(line, sizeof(line), stdin)) {
    if (!read_line(&maker, line)) {
      (void)fprintf(stderr, "make_take: what is %s", line);
      return 2;
    }
  }
  put_track(&maker);
  const int code = save(&maker, argv[1]);
  free(maker.events);
  free(maker.bytes);
  return code;
}
