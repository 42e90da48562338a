#include "bytes.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_vlq.h"
#include "core/rng.h"

#include <criterion/criterion.h>

#include <stdint.h>

#define HEAD "4D 54 68 64 00 00 00 06 "
#define TRACK_OF_4 "4D 54 72 6B 00 00 00 04 00 FF 2F 00 "
#define NOTE_TRACK                                                             \
  "4D 54 72 6B 00 00 00 0C 00 90 3C 40 60 80 3C 40 00 FF 2F 00 "

enum { REFUSED = -1, N_MUTATIONS = 5000 };

// What the table of treatments in smf_reader.h says, each row worked out by
// hand from RP-001. Byte: of the first warning, or of the refusal.
typedef struct {
  const char* name;
  const char* hex;
  int         n_notes;
  size_t      n_warnings;
  unsigned    byte;
} Row;

static const Row files[] = {
  {"another kind of file", "52 49 46 46 00 00 00 06", REFUSED, 0, 0},
  {"too short for a header", "4D 54 68 64 00 00", REFUSED, 0, 0},
  {"header of 5 bytes",
   "4D 54 68 64 00 00 00 05 00 00 00 01 00 60 " TRACK_OF_4,
   REFUSED,
   0,
   4},
  {"header cut off", HEAD "00 00 00 01", REFUSED, 0, 4},
  {"header longer than the file",
   "4D 54 68 64 FF FF FF FF 00 00 00 01 00 60",
   REFUSED,
   0,
   4},
  {"header of 10 bytes",
   "4D 54 68 64 00 00 00 0A 00 00 00 01 00 60 01 02 03 04 " NOTE_TRACK,
   1,
   0,
   0},
  {"format 2", HEAD "00 02 00 01 00 60 " NOTE_TRACK, REFUSED, 0, 8},
  {"format 3", HEAD "00 03 00 01 00 60 " NOTE_TRACK, REFUSED, 0, 8},
  {"division 0", HEAD "00 00 00 01 00 00 " NOTE_TRACK, REFUSED, 0, 12},
  {"no ticks in a frame", HEAD "00 00 00 01 E7 00 " NOTE_TRACK, REFUSED, 0, 12},
  {"26 frames a second", HEAD "00 00 00 01 E6 28 " NOTE_TRACK, REFUSED, 0, 12},
  {"128 frames a second", HEAD "00 00 00 01 80 28 " NOTE_TRACK, REFUSED, 0, 12},
  {"no track, one announced", HEAD "00 00 00 01 00 60", REFUSED, 0, 14},
  {"no track, none announced", HEAD "00 00 00 00 00 60", 0, 1, 14},
  {"only a chunk of another kind",
   HEAD "00 00 00 01 00 60 4D 54 78 6B 00 00 00 00",
   REFUSED,
   0,
   14},
  {"a track more than announced",
   HEAD "00 01 00 01 00 60 " NOTE_TRACK NOTE_TRACK,
   2,
   1,
   14},
  {"a track fewer than announced",
   HEAD "00 01 00 02 00 60 " TRACK_OF_4,
   0,
   1,
   14},
  {"two tracks in format 0",
   HEAD "00 00 00 02 00 60 " NOTE_TRACK NOTE_TRACK,
   2,
   1,
   14},
  {"65535 tracks announced", HEAD "00 01 FF FF 00 60 " NOTE_TRACK, 1, 1, 14},
  {"alien chunks around",
   HEAD "00 00 00 01 00 60 58 59 5A 20 00 00 00 03 01 02 03 " NOTE_TRACK
        "41 42 43 44 00 00 00 00",
   1,
   0,
   0},
  {"an alien chunk that lies",
   HEAD "00 00 00 01 00 60 58 59 5A 20 7F FF FF FF 01 02 03 " NOTE_TRACK,
   1,
   1,
   14},
  {"bytes between the tracks",
   HEAD "00 01 00 02 00 60 " NOTE_TRACK "01 02 03 04 05 " NOTE_TRACK,
   2,
   1,
   34},
  {"bytes at the end", HEAD "00 00 00 01 00 60 " NOTE_TRACK "00", 1, 1, 34},
  {"a length far too long",
   HEAD "00 01 00 02 00 60 4D 54 72 6B FF FF FF FF 00 90 3C 40 60 80 3C 40 "
        "00 FF 2F 00 " NOTE_TRACK,
   2,
   1,
   18},
  {"a length that ends within the next track",
   HEAD "00 01 00 02 00 60 4D 54 72 6B 00 00 00 15 00 90 3C 40 60 80 3C 40 "
        "00 FF 2F 00 " NOTE_TRACK,
   2,
   1,
   34},
  {"a length too short",
   HEAD "00 01 00 02 00 60 4D 54 72 6B 00 00 00 05 00 90 3C 40 60 80 3C 40 "
        "00 FF 2F 00 " NOTE_TRACK,
   2,
   1,
   34},
  {"a length of 0",
   HEAD "00 00 00 01 00 60 4D 54 72 6B 00 00 00 00 00 90 3C 40 60 80 3C 40 "
        "00 FF 2F 00",
   1,
   1,
   34},
  {"bytes after the End of Track",
   HEAD "00 00 00 01 00 60 4D 54 72 6B 00 00 00 0E 00 90 3C 40 60 80 3C 40 "
        "00 FF 2F 00 00 00",
   1,
   1,
   34},
  {"a chunk beyond the end of the file",
   HEAD "00 00 00 01 00 60 4D 54 72 6B 00 00 00 10 00 FF",
   REFUSED,
   0,
   24},
  {"a track without an end before another chunk",
   HEAD "00 00 00 01 00 60 4D 54 72 6B 00 00 00 07 00 90 3C 40 60 3C 00 "
        "41 42 43 44 00 00 00 04 00 3C 40 00",
   1,
   1,
   29},
  {"a text that spells MTrk",
   HEAD "00 00 00 01 00 60 4D 54 72 6B 00 00 00 18 00 FF 01 08 4D 54 72 6B 00 "
        "00 00 00 00 90 3C 40 60 80 3C 40 00 FF 2F 00",
   1,
   0,
   0},
  {"a track behind garbage, and none missing",
   HEAD "00 00 00 01 00 60 " NOTE_TRACK "01 02 03 04 05 " NOTE_TRACK,
   1,
   1,
   34},
  {"two tracks of which nothing can be read",
   HEAD "00 01 00 02 00 60 4D 54 72 6B 00 00 00 03 00 3C 40 "
        "4D 54 72 6B 00 00 00 03 00 3C 40",
   REFUSED,
   0,
   23},
  {"an end without a note, and a clean track",
   HEAD "00 01 00 02 00 60 4D 54 72 6B 00 00 00 08 00 80 3C 40 00 FF 2F "
        "00 " NOTE_TRACK,
   1,
   1,
   30},
  {"RIFF that ends without padding",
   "52 49 46 46 00 00 00 00 52 4D 49 44 44 49 53 50 03 00 00 00 01 02 03",
   REFUSED,
   0,
   0},
  {"RIFF of another type",
   "52 49 46 46 00 00 00 00 57 41 56 45 64 61 74 61 16 00 00 00 " HEAD
   "00 00 00 01 00 60 " NOTE_TRACK,
   REFUSED,
   0,
   0},
  {"running status from another track",
   HEAD "00 01 00 02 00 60 " NOTE_TRACK
        "4D 54 72 6B 00 00 00 07 00 3C 40 00 FF 2F 00",
   1,
   1,
   43},
};

static const Row tracks[] = {
  {"a data byte first", "00 3C 40 00 FF 2F 00", REFUSED, 0, 23},
  {"a data byte first, after a text",
   "00 FF 01 00 00 3C 40 00 FF 2F 00",
   0,
   1,
   27},
  {"running status after a meta event",
   "00 90 3C 40 00 FF 01 00 60 3C 00 00 FF 2F 00",
   1,
   1,
   31},
  {"running status after sysex",
   "00 90 3C 40 00 F0 02 43 F7 60 3C 00 00 FF 2F 00",
   1,
   1,
   32},
  {"no End of Track", "00 90 3C 40 60 3C 00", 1, 1, 29},
  {"nothing at all", "", REFUSED, 0, 22},
  {"a first data byte above 127",
   "00 90 BC 40 00 90 3C 40 60 3C 00 00 FF 2F 00",
   1,
   1,
   24},
  {"a second data byte above 127",
   "00 90 3C C8 60 3C 00 00 FF 2F 00",
   1,
   1,
   25},
  {"a program above 127", "00 C0 80 00 FF 2F 00", 0, 1, 24},
  {"a clock: running status stays",
   "00 90 3C 40 00 F8 60 3C 00 00 FF 2F 00",
   1,
   1,
   27},
  {"a tune request: it does not",
   "00 90 3C 40 00 F6 60 3C 00 00 FF 2F 00",
   1,
   2,
   27},
  {"a song position with its two bytes",
   "00 F2 01 02 00 90 3C 40 60 3C 00 00 FF 2F 00",
   1,
   1,
   23},
  {"a song position without its bytes",
   "00 F2 81 40 90 3C 40 60 3C 00 00 FF 2F 00",
   1,
   1,
   23},
  {"a song number with its byte",
   "00 F3 05 00 90 3C 40 60 3C 00 00 FF 2F 00",
   1,
   1,
   23},
  {"sysex in packets, as RP-001 has it",
   "00 F0 03 43 12 00 81 48 F7 06 43 12 00 43 12 00 64 F7 04 43 12 00 F7 "
   "00 FF 2F 00",
   0,
   0,
   0},
  {"unknown meta events", "00 FF 60 02 01 02 00 FF 7F 00 00 FF 2F 00", 0, 0, 0},
  {"a time of 5 bytes", "81 80 80 80 00 90 3C 64 00 FF 2F 00", REFUSED, 0, 22},
  {"a time of 5 bytes, after a note",
   "00 90 3C 40 60 3C 00 FF FF FF FF 7F 3E 40 00 FF 2F 00",
   1,
   1,
   29},
  {"a time cut off", "00 90 3C 40 60 3C 00 81", 1, 1, 29},
  {"a status cut off", "00 90 3C 40 60 3C 00 00", 1, 1, 30},
  {"a message cut off", "00 90 3C 40 60 3C 00 00 90 3C", 1, 1, 31},
  {"a meta type cut off", "00 90 3C 40 60 3C 00 00 FF", 1, 1, 31},
  {"a meta length cut off", "00 90 3C 40 60 3C 00 00 FF 01", 1, 1, 32},
  {"a text longer than the track",
   "00 90 3C 40 60 3C 00 00 FF 01 FF FF FF 7F 61 00 FF 2F 00",
   1,
   1,
   32},
  {"a text one byte longer than the track",
   "00 90 3C 40 60 3C 00 00 FF 01 03 61 62",
   1,
   1,
   32},
  {"sysex longer than the track",
   "00 90 3C 40 60 3C 00 00 F0 05 43 F7",
   1,
   1,
   31},
  {"a note without an end", "00 90 3C 40 60 FF 2F 00", 1, 1, 30},
  {"an end without a note", "00 80 3C 40 60 FF 2F 00", 0, 1, 30},
  {"an end on another channel",
   "00 90 3C 40 60 81 3C 40 00 FF 2F 00",
   1,
   2,
   34},
  {"tempo 0", "00 FF 51 03 00 00 00 00 FF 2F 00", 0, 1, 26},
  {"a tempo of 2 bytes", "00 FF 51 02 07 A1 00 FF 2F 00", 0, 1, 26},
  {"a tempo of 4 bytes", "00 FF 51 04 07 A1 20 99 00 FF 2F 00", 0, 0, 0},
  {"no beats", "00 FF 58 04 00 02 18 08 00 FF 2F 00", 0, 1, 26},
  {"beats of 1/2^255", "00 FF 58 04 04 FF 18 08 00 FF 2F 00", 0, 1, 26},
  {"beats of 1/128", "00 FF 58 04 04 07 18 08 00 FF 2F 00", 0, 0, 0},
  {"beats of 1/256", "00 FF 58 04 04 08 18 08 00 FF 2F 00", 0, 1, 26},
  {"a meter of 3 bytes", "00 FF 58 03 04 02 18 00 FF 2F 00", 0, 1, 26},
  {"8 sharps", "00 FF 59 02 08 00 00 FF 2F 00", 0, 1, 26},
  {"8 flats", "00 FF 59 02 F8 00 00 FF 2F 00", 0, 1, 26},
  {"neither major nor minor", "00 FF 59 02 00 02 00 FF 2F 00", 0, 1, 26},
  {"a key of 1 byte", "00 FF 59 01 00 00 FF 2F 00", 0, 1, 26},
  {"an SMPTE offset of 30 frames",
   "00 FF 54 05 00 00 00 1E 00 00 FF 2F 00",
   0,
   1,
   26},
  {"an SMPTE offset of 24 hours",
   "00 FF 54 05 18 00 00 00 00 00 FF 2F 00",
   0,
   1,
   26},
  {"an SMPTE offset", "00 FF 54 05 61 3B 3B 1D 63 00 FF 2F 00", 0, 0, 0},
};

static void
check(const Row* const row, const Bytes* const bytes)
{
  SmfTake      take = {0};
  Fault        fault;
  const Status status =
    smf_read(&take, bytes->bytes, bytes->size, SMF_US_PER_QUARTER, &fault);
  if (row->n_notes == REFUSED) {
    char expected[24];
    (void)snprintf(expected, sizeof(expected), "byte %u: ", row->byte);
    cr_expect_eq(status, STATUS_SYNTAX, "%s is read", row->name);
    cr_expect(!strncmp(fault.text, expected, strlen(expected)),
              "%s: %s",
              row->name,
              fault.text);
    return;
  }

  cr_assert_eq(status, STATUS_OK, "%s: %s", row->name, fault.text);
  cr_expect_eq(take.n_notes, (size_t)row->n_notes, "%s", row->name);
  cr_expect_eq(take.warnings.n_found, row->n_warnings, "%s", row->name);
  if (row->n_warnings) {
    cr_expect_eq(take.warnings.items[0].offset,
                 row->byte,
                 "%s: byte %u: %s",
                 row->name,
                 (unsigned)take.warnings.items[0].offset,
                 take.warnings.items[0].text);
  }
  smf_free(&take);
}

Test(smf_damage, of_files_is_treated_as_promised)
{
  for (size_t i = 0; i < sizeof(files) / sizeof(*files); ++i) {
    const Bytes bytes = bytes_of(files[i].hex);
    check(&files[i], &bytes);
  }
}

Test(smf_damage, of_tracks_is_treated_as_promised)
{
  for (size_t i = 0; i < sizeof(tracks) / sizeof(*tracks); ++i) {
    const Bytes bytes = bytes_of_track(tracks[i].hex);
    check(&tracks[i], &bytes);
  }
}

Test(smf_damage, takes_too_loud_a_note_as_127)
{
  const Bytes bytes = bytes_of_track("00 90 3C C8 60 3C 00 00 FF 2F 00");
  SmfTake     take  = {0};
  Fault       fault;
  cr_assert_eq(
    smf_read(&take, bytes.bytes, bytes.size, SMF_US_PER_QUARTER, &fault),
    STATUS_OK);
  cr_assert_eq(take.notes[0].velocity, 127);
  cr_assert_eq(take.notes[0].length, 960);
  smf_free(&take);
}

Test(smf_damage, ends_a_note_without_an_end_with_its_track)
{
  const Bytes bytes = bytes_of_track("60 90 3C 40 82 40 FF 2F 00");
  SmfTake     take  = {0};
  Fault       fault;
  cr_assert_eq(
    smf_read(&take, bytes.bytes, bytes.size, SMF_US_PER_QUARTER, &fault),
    STATUS_OK);
  cr_assert_eq(take.notes[0].tick, 960);
  cr_assert_eq(take.notes[0].length, 3200); // 320 ticks of 96
  smf_free(&take);
}

// Whatever a file holds, this holds of a take.
static void
check_take(const SmfTake* const take)
{
  Tick before = 0;
  for (size_t i = 0; i < take->n_notes; ++i) {
    cr_assert_geq(take->notes[i].tick, before);
    cr_assert_geq(take->notes[i].length, 1);
    cr_assert_geq(take->notes[i].velocity, 1);
    cr_assert_lt(take->notes[i].track, take->n_tracks);
    before = take->notes[i].tick;
  }
  cr_assert_leq(take->warnings.n, SMF_WARNINGS_CAPACITY);
  cr_assert_leq(take->warnings.n, take->warnings.n_found);
}

// Read bytes from memory of just their size, so that the sanitizer sees a step
// beyond them; return whether all was in order.
static bool
read_exactly(const uint8_t* const bytes, const size_t size)
{
  uint8_t* const copy = malloc(size + !size);
  memcpy(copy, bytes, size);
  SmfTake      take = {0};
  Fault        fault;
  const Status status = smf_read(&take, copy, size, SMF_US_PER_QUARTER, &fault);
  free(copy);
  if (status) {
    cr_assert_eq(status, STATUS_SYNTAX);
    cr_assert(!strncmp(fault.text, "byte ", 5), "%s", fault.text);
    return false;
  }
  check_take(&take);
  const bool in_order = take.warnings.n_found == 0;
  smf_free(&take);
  return in_order;
}

Test(smf_damage, shows_in_a_file_cut_at_any_byte)
{
  static const char* const examples[] = {RP001_FORMAT_0, RP001_FORMAT_1};
  for (size_t i = 0; i < 2; ++i) {
    const Bytes bytes = bytes_of(examples[i]);
    for (size_t size = 0; size < bytes.size; ++size) {
      cr_assert(!read_exactly(bytes.bytes, size), "cut at %zu", size);
    }
    cr_assert(read_exactly(bytes.bytes, bytes.size));
  }
}

// Bytes are changed, cut out and put in, of the example with most in it.
Test(smf_damage, of_any_kind_is_survived, .timeout = 120)
{
  const Bytes whole = bytes_of(RP001_FORMAT_1);
  Rng         rng   = rng_seed(2026, 7);
  for (unsigned i = 0; i < N_MUTATIONS; ++i) {
    Bytes          bytes     = whole;
    const unsigned n_changes = 1 + rng_below(&rng, 4);
    for (unsigned change = 0; change < n_changes; ++change) {
      const uint32_t at   = rng_below(&rng, (uint32_t)bytes.size);
      const uint32_t kind = rng_below(&rng, 5);
      const size_t   rest = bytes.size - at - 1;
      if (kind == 0) { // Cut one out
        memmove(bytes.bytes + at, bytes.bytes + at + 1, rest);
        --bytes.size;
      } else if (kind == 1) { // Put one in
        memmove(bytes.bytes + at + 1, bytes.bytes + at, rest + 1);
        ++bytes.size;
      }
      if (kind != 0) {
        bytes.bytes[at] =
          kind == 2 ? bytes.bytes[at] ^ 0x80U : (uint8_t)rng_next(&rng);
      }
    }
    (void)read_exactly(bytes.bytes, bytes.size);
  }
}

// A million program changes, each the longest time after the one before. The
// last that can be counted is reached in quarters, and in frames it is held.
static void
check_end_of_time(const unsigned division, const Tick end)
{
  enum { N = 1100000, EVENT = 5 };
  Bytes head     = bytes_of_track("00 C0 00");
  head.bytes[12] = (uint8_t)(division >> 8U);
  head.bytes[13] = (uint8_t)division;

  const size_t   size  = head.size + (size_t)N * EVENT;
  uint8_t* const bytes = malloc(size);
  memcpy(bytes, head.bytes, head.size);
  for (size_t i = 0; i < N; ++i) {
    memcpy(bytes + head.size + i * EVENT, "\xFF\xFF\xFF\x7F\x00", EVENT);
  }

  SmfTake take = {0};
  Fault   fault;
  cr_assert_eq(smf_read(&take, bytes, size, 1, &fault), STATUS_OK);
  cr_assert_eq(take.n_controls, 1 + SMF_LAST_TICK / SMF_VLQ_MAX);
  cr_assert_eq(take.end, end);
  cr_assert_str_eq(take.warnings.items[0].text, "a time beyond all counting");
  smf_free(&take);
  free(bytes);
}

Test(smf_damage, of_time_stops_before_counting_fails)
{
  const uint64_t n_counted = SMF_LAST_TICK / SMF_VLQ_MAX;
  check_end_of_time(96, (Tick)(n_counted * SMF_VLQ_MAX * 10));
  check_end_of_time(0xE801, (Tick)(SMF_LAST_TICK * 960));
}

Test(smf_damage, of_length_holds_a_note_at_its_longest)
{
  // Two times of 0FFFFFFF hex, of which one tick is 10
  const Bytes bytes = bytes_of_track("00 90 3C 40 FF FF FF 7F FF 01 00 "
                                     "FF FF FF 7F 3C 00 00 FF 2F 00");
  SmfTake     take  = {0};
  Fault       fault;
  cr_assert_eq(
    smf_read(&take, bytes.bytes, bytes.size, SMF_US_PER_QUARTER, &fault),
    STATUS_OK);
  cr_assert_eq(take.notes[0].length, UINT32_MAX);
  cr_assert_eq(take.end, (Tick)2 * 0x0FFFFFFF * 10);
  smf_free(&take);
}

#if SIZE_MAX > UINT32_MAX // Elsewhere there is no such size
Test(smf_damage, of_size_is_refused_unread)
{
  const Bytes bytes = bytes_of(RP001_FORMAT_0);
  SmfTake     take  = {0};
  Fault       fault;
  cr_assert_eq(
    smf_read(
      &take, bytes.bytes, (size_t)UINT32_MAX + 1, SMF_US_PER_QUARTER, &fault),
    STATUS_RANGE);
}
#endif

Test(smf_damage, of_number_leaves_out_tracks_beyond_capacity)
{
  const Bytes    track = bytes_of(TRACK_OF_4);
  const size_t   n     = SMF_TRACK_CAPACITY + 3;
  const Bytes    head  = bytes_of(HEAD "00 01 40 03 00 60"); // 16387 tracks
  const size_t   size  = head.size + n * track.size;
  uint8_t* const bytes = malloc(size);
  memcpy(bytes, head.bytes, head.size);
  for (size_t i = 0; i < n; ++i) {
    memcpy(bytes + head.size + i * track.size, track.bytes, track.size);
  }

  SmfTake take = {0};
  Fault   fault;
  cr_assert_eq(smf_read(&take, bytes, size, SMF_US_PER_QUARTER, &fault),
               STATUS_OK);
  cr_assert_eq(take.n_tracks, SMF_TRACK_CAPACITY);
  cr_assert_eq(take.warnings.n_found, 1);
  smf_free(&take);
  free(bytes);
}

// One key struck half a million times before any of it ends: the work must not
// grow with the square.
Test(smf_damage, of_a_key_struck_again_and_again_ends, .timeout = 60)
{
  enum { N = 500000, EVENT = 3 };
  const Bytes    head  = bytes_of_track("00 90 3C 40");
  const size_t   size  = head.size + (size_t)2 * N * EVENT;
  uint8_t* const bytes = malloc(size);
  memcpy(bytes, head.bytes, head.size);
  for (size_t i = 0; i < (size_t)2 * N; ++i) {
    memcpy(bytes + head.size + i * EVENT,
           i < N ? "\x00\x3C\x40" : "\x01\x3C\x00",
           EVENT);
  }

  SmfTake take = {0};
  Fault   fault;
  cr_assert_eq(smf_read(&take, bytes, size, SMF_US_PER_QUARTER, &fault),
               STATUS_OK);
  cr_assert_eq(take.n_notes, N + 1);
  cr_assert_eq(take.notes[N - 1].length, (uint32_t)N * 10);
  smf_free(&take);
  free(bytes);
}

Test(smf_damage, keeps_a_bounded_list_and_counts_the_rest)
{
  Bytes bytes = bytes_of_track("");
  for (unsigned i = 0; i < 40; ++i) {
    bytes_add(&bytes, "00 F8");
  }
  SmfTake take = {0};
  Fault   fault;
  cr_assert_eq(
    smf_read(&take, bytes.bytes, bytes.size, SMF_US_PER_QUARTER, &fault),
    STATUS_SYNTAX,
    "nothing but system messages, and no end");

  bytes_add(&bytes, "00 FF 2F 00");
  cr_assert_eq(
    smf_read(&take, bytes.bytes, bytes.size, SMF_US_PER_QUARTER, &fault),
    STATUS_OK);
  cr_assert_eq(take.warnings.n, SMF_WARNINGS_CAPACITY);
  cr_assert_eq(take.warnings.n_found, 41); // The length says 0, too
  smf_free(&take);
}
