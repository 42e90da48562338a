#include "bytes.h"
#include "core/midi/smf_reader.h"

#include <criterion/criterion.h>

static SmfTake
take_of(const Bytes* const bytes)
{
  SmfTake      take = {0};
  Fault        fault;
  const Status status =
    smf_read(&take, bytes->bytes, bytes->size, SMF_US_PER_QUARTER, &fault);
  cr_assert_eq(status, STATUS_OK, "%s", fault.text);
  return take;
}

static SmfTake
clean_take_of(const Bytes* const bytes)
{
  const SmfTake take = take_of(bytes);
  cr_assert_eq(take.warnings.n_found, 0, "%s", take.warnings.items[0].text);
  return take;
}

// RP-001: what both of its examples hold; ticks of 96 are ten of ours.
static void
check_example(const SmfTake* const take)
{
  static const struct {
    unsigned channel, pitch, velocity;
    Tick     on, off;
  } expected[] = {
    {2, 48, 96, 0, 384},
    {2, 60, 96, 0, 384},
    {1, 67, 64, 96, 384},
    {0, 76, 32, 192, 384},
  };
  cr_assert_eq(take->n_notes, 4);
  for (size_t i = 0; i < 4; ++i) {
    const SmfNote note = take->notes[i];
    cr_assert_eq(note.tick, expected[i].on * 10);
    cr_assert_eq(note.length, (expected[i].off - expected[i].on) * 10);
    cr_assert_eq(note.channel, expected[i].channel);
    cr_assert_eq(note.pitch, expected[i].pitch);
    cr_assert_eq(note.velocity, expected[i].velocity);
  }

  cr_assert_eq(take->ticks_per_quarter, 96);
  cr_assert_eq(take->end, 3840);
  cr_assert_float_eq(smf_seconds(take, take->end), 2.0, 1e-9);
  cr_assert_eq(take->n_tempos, 1);
  cr_assert_eq(take->tempos[0].us_per_quarter, 500000);
  cr_assert_eq(take->n_meters, 1);
  cr_assert_eq(take->meters[0].beats, 4);
  cr_assert_eq(take->meters[0].unit, 4);
  cr_assert_eq(take->meters[0].clocks_a_click, 24);
  cr_assert_eq(take->meters[0].n32_per_quarter, 8);

  static const uint8_t programs[] = {5, 46, 70};
  cr_assert_eq(take->n_controls, 3);
  for (size_t i = 0; i < 3; ++i) {
    cr_assert_eq(take->controls[i].status, MIDI_PROGRAM | i);
    cr_assert_eq(take->controls[i].data[0], programs[i]);
    cr_assert_eq(take->controls[i].data[1], 0);
  }
}

Test(smf_reader, reads_the_worked_example_of_format_0)
{
  const Bytes bytes = bytes_of(RP001_FORMAT_0);
  SmfTake     take  = clean_take_of(&bytes);
  cr_assert_eq(take.format, 0);
  cr_assert_eq(take.n_tracks, 1);
  cr_assert_eq(take.tracks[0].n_notes, 4);
  cr_assert_eq(take.n_events, 14); // As the example lists them
  check_example(&take);
  smf_free(&take);
}

Test(smf_reader, reads_the_worked_example_of_format_1)
{
  const Bytes bytes = bytes_of(RP001_FORMAT_1);
  SmfTake     take  = clean_take_of(&bytes);
  cr_assert_eq(take.format, 1);
  cr_assert_eq(take.n_tracks, 4);
  cr_assert_eq(take.tracks[0].n_notes, 0);
  cr_assert_eq(take.tracks[3].n_notes, 2);
  cr_assert_eq(take.notes[0].track, 3);
  cr_assert_eq(take.notes[3].track, 1);
  check_example(&take);
  smf_free(&take);
}

Test(smf_reader, frees_more_than_once)
{
  const Bytes bytes = bytes_of(RP001_FORMAT_0);
  SmfTake     take  = clean_take_of(&bytes);
  smf_free(&take);
  cr_assert_null(take.notes);
  cr_assert_eq(take.n_notes, 0);
  smf_free(&take);
}

Test(smf_reader, has_the_default_tempo_and_no_meter)
{
  const Bytes bytes = bytes_of_track("00 90 3C 40 60 3C 00 00 FF 2F 00");
  SmfTake     take  = clean_take_of(&bytes);
  cr_assert_eq(take.n_tempos, 0);
  cr_assert_eq(take.n_meters, 0);
  cr_assert_eq(smf_tempo_at(&take, 0), 500000); // RP-001: 120 bpm
  // RP-001's own sum: 6144 ticks of 96 at 500,000 us last 32 s
  cr_assert_float_eq(smf_seconds(&take, 6144 * 10), 32.0, 1e-9);
  smf_free(&take);
}

// Tempos 500,000 and, from the second quarter, 1,000,000 us; 6/8 and its click
// as RP-001 has them; E flat major, G minor; texts.
Test(smf_reader, reads_what_else_a_track_may_hold)
{
  const Bytes bytes = bytes_of_track(
    "00 FF 03 06 70 6C 61 79 65 72 " // Name "player"
    "00 FF 59 02 FD 00 00 FF 58 04 06 03 24 08 "
    "00 FF 51 03 07 A1 20 00 FF 01 02 68 69 "       // Text "hi"
    "60 FF 51 03 0F 42 40 00 FF 06 02 6D 00 "       // Marker
    "60 FF 59 02 FE 01 00 FF 03 01 78 00 B3 40 7F " // Second name
    "00 E3 00 40 00 D3 05 00 A3 3C 11 00 FF 2F 00");
  SmfTake take = clean_take_of(&bytes);

  cr_assert_str_eq(smf_track_name(&take, 0), "player");
  cr_assert_eq(take.n_keys, 2);
  cr_assert_eq(take.keys[0].sharps, -3);
  cr_assert_eq(take.keys[0].is_minor, 0);
  cr_assert_eq(take.keys[1].sharps, -2);
  cr_assert_eq(take.keys[1].is_minor, 1);
  cr_assert_eq(take.keys[1].tick, 2 * 960);
  cr_assert_eq(take.n_meters, 1);
  cr_assert_eq(take.meters[0].beats, 6);
  cr_assert_eq(take.meters[0].unit, 8);
  cr_assert_eq(take.meters[0].clocks_a_click, 36);

  cr_assert_eq(smf_tempo_at(&take, 959), 500000);
  cr_assert_eq(smf_tempo_at(&take, 960), 1000000);
  cr_assert_float_eq(smf_seconds(&take, 480), 0.25, 1e-9);
  cr_assert_float_eq(smf_seconds(&take, 960), 0.5, 1e-9);
  cr_assert_float_eq(smf_seconds(&take, 3 * 960), 2.5, 1e-9);

  cr_assert_eq(take.n_texts, 4);
  cr_assert_eq(take.texts[1].kind, SMF_TEXT);
  cr_assert_str_eq(smf_text(&take, &take.texts[1]), "hi");
  cr_assert_eq(take.texts[2].kind, SMF_MARKER);
  cr_assert_eq(take.texts[2].tick, 960);
  cr_assert_str_eq(smf_text(&take, &take.texts[2]), "m");

  static const uint8_t controls[][3] = {
    {0xB3, 0x40, 0x7F}, {0xE3, 0x00, 0x40}, {0xD3, 5, 0}, {0xA3, 0x3C, 0x11}};
  cr_assert_eq(take.n_controls, 4);
  for (size_t i = 0; i < 4; ++i) {
    cr_assert_eq(take.controls[i].status, controls[i][0]);
    cr_assert_eq(take.controls[i].data[0], controls[i][1]);
    cr_assert_eq(take.controls[i].data[1], controls[i][2]);
  }
  smf_free(&take);
}

// RP-001 keeps 01..0F for texts.
Test(smf_reader, keeps_texts_of_all_kinds)
{
  Bytes bytes = bytes_of_track("");
  for (unsigned kind = 0x01; kind <= 0x0F; ++kind) {
    char hex[32];
    (void)snprintf(hex, sizeof(hex), "00 FF %02X 01 61", kind);
    bytes_add(&bytes, hex);
  }
  bytes_add(&bytes, "00 FF 10 01 61 00 FF 00 02 00 01 00 FF 2F 00");
  bytes.bytes[21] = (uint8_t)(bytes.size - 22);
  SmfTake take    = clean_take_of(&bytes);
  cr_assert_eq(take.n_texts, 15);
  for (unsigned i = 0; i < 15; ++i) {
    cr_assert_eq(take.texts[i].kind, i + 1);
  }
  cr_assert_eq(take.n_events, 18);
  smf_free(&take);
}

typedef struct {
  char     name[48];
  char     division[8];
  unsigned us_per_quarter;
  unsigned delta; // Of the note, in the file's ticks; one byte
  Tick     tick;  // Where it is in ticks of 960
} DivisionRow;

// Quarters: ticks times 960 over the division, to the nearest. Frames: RP-001,
// E2 50 is 30 frames of 80 ticks; 29 frames stand for 30000/1001 a second.
static const DivisionRow divisions[] = {
  {"96 to a quarter", "00 60", 500000, 96, 960},
  {"480: one tick is two", "01 E0", 500000, 1, 2},
  {"960: as it is", "03 C0", 500000, 77, 77},
  {"1: a quarter a tick", "00 01", 500000, 3, 2880},
  {"7: 137.14 is 137", "00 07", 500000, 1, 137},
  {"1920: 0.5 goes up", "07 80", 500000, 1, 1},
  {"32767: 0.47 is 0", "7F FF", 500000, 16, 0},
  {"32767: 0.50 is 1", "7F FF", 500000, 18, 1},
  {"30 x 4 at 120 bpm: 60 are 0.5 s", "E2 04", 500000, 60, 960},
  {"30 x 4 at 60 bpm: 60 are 0.5 s", "E2 04", 1000000, 60, 480},
  {"25 x 40 at 120 bpm: 100 are 0.1 s", "E7 28", 500000, 100, 192},
  {"24 x 1 at 120 bpm: 12 are 0.5 s", "E8 01", 500000, 12, 960},
  {"29 x 1: 15 are 0.5005 s", "E3 01", 500000, 15, 961},
};

Test(smf_reader, converts_every_division_to_960)
{
  for (size_t i = 0; i < sizeof(divisions) / sizeof(*divisions); ++i) {
    const DivisionRow* const row = &divisions[i];
    Bytes       bytes    = bytes_of_track("00 90 3C 40 00 3C 00 00 FF 2F 00");
    const Bytes division = bytes_of(row->division);
    memcpy(bytes.bytes + 12, division.bytes, 2);
    bytes.bytes[22] = (uint8_t)row->delta;

    SmfTake      take = {0};
    Fault        fault;
    const Status status =
      smf_read(&take, bytes.bytes, bytes.size, row->us_per_quarter, &fault);
    cr_assert_eq(status, STATUS_OK);
    cr_assert_eq(take.notes[0].tick,
                 row->tick,
                 "%s: %lld",
                 row->name,
                 (long long)take.notes[0].tick);
    cr_assert_eq(take.notes[0].length, 1, "no length is one tick");
    smf_free(&take);
  }
}

// RP-001: tempo has no meaning where frames are counted.
Test(smf_reader, leaves_tempos_out_where_frames_count)
{
  Bytes bytes     = bytes_of_track("00 FF 51 03 0F 42 40 3C 90 3C 40 00 3C 00 "
                                   "00 FF 2F 00");
  bytes.bytes[12] = 0xE2;
  bytes.bytes[13] = 4;
  SmfTake take    = clean_take_of(&bytes);
  cr_assert_eq(take.ticks_per_quarter, 0);
  cr_assert_eq(take.notes[0].tick, 960);
  cr_assert_eq(take.n_tempos, 1);
  cr_assert_float_eq(smf_seconds(&take, 960), 0.5, 1e-9);
  smf_free(&take);
}

Test(smf_reader, sorts_the_tracks_into_one_list)
{
  const Bytes bytes = bytes_of(
    "4D 54 68 64 00 00 00 06 00 01 00 03 00 60 "
    "4D 54 72 6B 00 00 00 0E 60 FF 01 01 61 00 FF 01 01 62 00 FF 2F 00 "
    "4D 54 72 6B 00 00 00 11 30 90 3C 40 60 3C 00 30 3E 40 30 3E 00 00 FF 2F "
    "00 4D 54 72 6B 00 00 00 11 00 91 40 40 30 41 40 60 40 00 30 41 00 00 FF "
    "2F 00");
  SmfTake take = clean_take_of(&bytes);
  static const struct {
    Tick     tick, length;
    unsigned pitch, track;
  } expected[] = {
    {0, 1440, 64, 2},
    {480, 960, 60, 1},
    {480, 1440, 65, 2}, // At one tick, in the order of tracks
    {1920, 480, 62, 1},
  };
  cr_assert_eq(take.n_notes, 4);
  for (size_t i = 0; i < 4; ++i) {
    cr_assert_eq(take.notes[i].tick, expected[i].tick);
    cr_assert_eq(take.notes[i].length, expected[i].length);
    cr_assert_eq(take.notes[i].pitch, expected[i].pitch);
    cr_assert_eq(take.notes[i].track, expected[i].track);
  }
  cr_assert_str_eq(smf_text(&take, &take.texts[0]), "a");
  cr_assert_str_eq(smf_text(&take, &take.texts[1]), "b");
  smf_free(&take);
}

Test(smf_reader, ends_with_the_longest_track)
{
  const Bytes bytes = bytes_of("4D 54 68 64 00 00 00 06 00 01 00 02 00 60 "
                               "4D 54 72 6B 00 00 00 05 82 40 FF 2F 00 "
                               "4D 54 72 6B 00 00 00 04 60 FF 2F 00");
  SmfTake     take  = clean_take_of(&bytes);
  cr_assert_eq(take.end, 3200);
  cr_assert_eq(take.tracks[0].end, 3200);
  cr_assert_eq(take.tracks[1].end, 960);
  smf_free(&take);
}

Test(smf_reader, pairs_the_first_struck_with_the_first_end)
{
  // Struck at 0, 48 and 72; ended at 96, 144 and 192
  const Bytes bytes =
    bytes_of_track("00 90 3C 11 30 3C 22 18 3C 33 18 3C 00 30 80 3C 40 "
                   "30 80 3C 40 00 FF 2F 00");
  SmfTake take = clean_take_of(&bytes);
  cr_assert_eq(take.n_notes, 3);
  cr_assert_eq(take.notes[0].length, 960);
  cr_assert_eq(take.notes[0].velocity, 0x11);
  cr_assert_eq(take.notes[1].length, 960);
  cr_assert_eq(take.notes[2].length, 1200);
  cr_assert_eq(take.notes[2].velocity, 0x33);
  smf_free(&take);
}

Test(smf_reader, looks_into_a_riff_file)
{
  Bytes bytes = bytes_of("52 49 46 46 00 00 00 00 52 4D 49 44 "
                         "44 49 53 50 03 00 00 00 01 02 03 00 " // Padded
                         "64 61 74 61 51 00 00 00");
  bytes_add(&bytes, RP001_FORMAT_0);
  bytes_add(&bytes, "00 4C 49 53 54 00 00 00 00"); // What follows is not ours
  SmfTake take = clean_take_of(&bytes);
  check_example(&take);
  smf_free(&take);
}
