#include "bytes.h"
#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"

#include <criterion/criterion.h>

static SmfWriter*
writer_of(const unsigned format, const unsigned division, const unsigned style)
{
  SmfWriter* writer = NULL;
  cr_assert_eq(smf_writer_open(&writer, format, division, style), STATUS_OK);
  return writer;
}

static void
check_bytes(SmfWriter* const writer, const char* const hex)
{
  const Bytes    expected = bytes_of(hex);
  const uint8_t* bytes    = NULL;
  size_t         size     = 0;
  cr_assert_eq(smf_writer_bytes(writer, &bytes, &size), STATUS_OK);
  for (size_t i = 0; i < size && i < expected.size; ++i) {
    cr_assert_eq(bytes[i],
                 expected.bytes[i],
                 "byte %zu: %02X, not %02X",
                 i,
                 bytes[i],
                 expected.bytes[i]);
  }
  cr_assert_eq(size, expected.size);
}

static const SmfMeter common_time = {.beats           = 4,
                                     .unit            = 4,
                                     .clocks_a_click  = 24,
                                     .n32_per_quarter = 8};

static SmfControl
program(const unsigned track, const unsigned channel, const uint8_t number)
{
  return (SmfControl){
    .track  = (uint16_t)track,
    .status = (uint8_t)(MIDI_PROGRAM | channel),
    .data   = {number, 0},
  };
}

// The notes of RP-001's examples, last first: the writer puts them in order.
static void
add_example_notes(SmfWriter* const writer, const unsigned tracks[4])
{
  static const SmfNote notes[] = {
    {.tick = 0, .length = 384, .pitch = 48, .velocity = 96, .channel = 2},
    {.tick = 0, .length = 384, .pitch = 60, .velocity = 96, .channel = 2},
    {.tick = 96, .length = 288, .pitch = 67, .velocity = 64, .channel = 1},
    {.tick = 192, .length = 192, .pitch = 76, .velocity = 32, .channel = 0},
  };
  for (size_t i = 0; i < 4; ++i) {
    SmfNote note = notes[i];
    note.track   = tracks[i] & 0x3FFFU;
    smf_writer_note(writer, note);
  }
}

Test(smf_writer, writes_the_worked_example_of_format_0)
{
  SmfWriter* const writer = writer_of(0, 96, SMF_RUNNING_STATUS);
  (void)smf_writer_track(writer, NULL);
  add_example_notes(writer, (const unsigned[]){0, 0, 0, 0});
  smf_writer_control(writer, program(0, 0, 5));
  smf_writer_control(writer, program(0, 1, 46));
  smf_writer_control(writer, program(0, 2, 70));
  smf_writer_meter(writer, common_time);
  smf_writer_tempo(writer, (SmfTempo){0, 500000});
  check_bytes(writer, RP001_FORMAT_0);
  smf_writer_close(writer);
}

Test(smf_writer, writes_the_worked_example_of_format_1)
{
  SmfWriter* const writer =
    writer_of(1, 96, SMF_RUNNING_STATUS | SMF_ENDS_AT_VELOCITY_0);
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(smf_writer_track(writer, ""), i);
  }
  add_example_notes(writer, (const unsigned[]){3, 3, 2, 1});
  smf_writer_control(writer, program(1, 0, 5));
  smf_writer_control(writer, program(2, 1, 46));
  smf_writer_control(writer, program(3, 2, 70));
  smf_writer_meter(writer, common_time);
  smf_writer_tempo(writer, (SmfTempo){0, 500000});
  smf_writer_end(writer, 0, 384);
  check_bytes(writer, RP001_FORMAT_1);
  check_bytes(writer, RP001_FORMAT_1); // It can be asked again
  smf_writer_close(writer);
}

// At one tick: meta events, ends, controls, beginnings. RP-001's bytes for 6/8,
// E flat major and 100 bpm.
Test(smf_writer, puts_events_of_one_tick_in_order)
{
  SmfWriter* const writer = writer_of(1, 0x6000, SMF_PLAIN);
  (void)smf_writer_track(writer, "a");
  smf_writer_note(
    writer, (SmfNote){.tick = 3, .length = 1, .pitch = 60, .velocity = 1});
  smf_writer_control(writer, (SmfControl){3, 0, MIDI_CONTROL, {64, 127}});
  smf_writer_note(
    writer, (SmfNote){.tick = 0, .length = 3, .pitch = 61, .velocity = 2});
  smf_writer_text(writer, 0, 3, SMF_MARKER, "t");
  smf_writer_meter(writer, (SmfMeter){0, 6, 8, 36, 8});
  smf_writer_key(writer, (SmfKey){0, -3, 0});
  smf_writer_tempo(writer, (SmfTempo){0, 600000});
  check_bytes(writer,
              "4D 54 68 64 00 00 00 06 00 01 00 01 60 00 4D 54 72 6B 00 00 00 "
              "37 00 FF 03 01 61 00 FF 58 04 06 03 24 08 00 FF 59 02 FD 00 "
              "00 FF 51 03 09 27 C0 00 90 3D 02 03 FF 06 01 74 00 80 3D 40 "
              "00 B0 40 7F 00 90 3C 01 01 80 3C 40 00 FF 2F 00");
  smf_writer_close(writer);
}

Test(smf_writer, cancels_running_status_at_meta_events)
{
  SmfWriter* const writer = writer_of(0, 96, SMF_RUNNING_STATUS);
  (void)smf_writer_track(writer, NULL);
  smf_writer_control(writer, (SmfControl){0, 0, 0xD0, {1, 0}});
  smf_writer_control(writer, (SmfControl){1, 0, 0xD0, {2, 0}});
  smf_writer_text(writer, 0, 2, SMF_TEXT, "");
  smf_writer_control(writer, (SmfControl){2, 0, 0xD0, {3, 0}});
  check_bytes(writer,
              "4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B 00 00 00 "
              "10 00 D0 01 01 02 01 FF 01 00 00 D0 03 00 FF 2F 00");
  smf_writer_close(writer);
}

Test(smf_writer, counts_frames_where_told)
{
  SmfWriter* const writer = writer_of(0, 0xE250, SMF_PLAIN); // RP-001's word
  (void)smf_writer_track(writer, NULL);
  check_bytes(writer,
              "4D 54 68 64 00 00 00 06 00 00 00 01 E2 50 4D 54 72 6B 00 00 00 "
              "04 00 FF 2F 00");
  smf_writer_close(writer);
}

Test(smf_writer, writes_a_text_of_any_length)
{
  SmfWriter* const writer = writer_of(1, 960, SMF_PLAIN);
  (void)smf_writer_track(writer, "player");
  char text[200000];
  memset(text, 'x', sizeof(text));
  text[sizeof(text) - 1] = '\0';
  smf_writer_text(writer, 0, 5, SMF_TEXT, text);

  const uint8_t* bytes = NULL;
  size_t         size  = 0;
  SmfTake        take  = {0};
  Fault          fault;
  cr_assert_eq(smf_writer_bytes(writer, &bytes, &size), STATUS_OK);
  cr_assert_eq(smf_read(&take, bytes, size, SMF_US_PER_QUARTER, &fault),
               STATUS_OK);
  cr_assert_eq(take.warnings.n_found, 0);
  cr_assert_str_eq(smf_track_name(&take, 0), "player");
  cr_assert_eq(take.texts[1].tick, 5);
  cr_assert_str_eq(smf_text(&take, &take.texts[1]), text);
  smf_free(&take);
  smf_writer_close(writer);
}

Test(smf_writer, refuses_a_header_that_cannot_be)
{
  SmfWriter* writer = NULL;
  cr_assert_eq(smf_writer_open(&writer, 2, 96, SMF_PLAIN), STATUS_RANGE);
  cr_assert_eq(smf_writer_open(&writer, 1, 0, SMF_PLAIN), STATUS_RANGE);
  cr_assert_eq(smf_writer_open(&writer, 1, 0xE200, SMF_PLAIN), STATUS_RANGE);
  cr_assert_eq(smf_writer_open(&writer, 1, 0x10000, SMF_PLAIN), STATUS_RANGE);
  cr_assert_null(writer);
  smf_writer_close(NULL);
}

typedef void (*Spoil)(SmfWriter* writer);

static void
add_note_before_0(SmfWriter* const writer)
{
  smf_writer_note(writer, (SmfNote){.tick = -1, .length = 1, .velocity = 1});
}

static void
add_note_long_before_0(SmfWriter* const writer)
{
  smf_writer_note(
    writer, (SmfNote){.tick = -((Tick)1 << 32), .length = 1, .velocity = 1});
}

static void
add_note_at_the_end_of_time(SmfWriter* const writer)
{
  smf_writer_note(writer,
                  (SmfNote){.tick = INT64_MAX, .length = 1, .velocity = 1});
}

static void
add_note_of_no_length(SmfWriter* const writer)
{
  smf_writer_note(writer, (SmfNote){.tick = 0, .length = 0, .velocity = 1});
}

static void
add_silent_note(SmfWriter* const writer)
{
  smf_writer_note(writer, (SmfNote){.tick = 0, .length = 1, .velocity = 0});
}

static void
add_note_to_no_track(SmfWriter* const writer)
{
  smf_writer_note(writer, (SmfNote){.length = 1, .velocity = 1, .track = 1});
}

static void
add_note_as_control(SmfWriter* const writer)
{
  smf_writer_control(writer, (SmfControl){0, 0, MIDI_NOTE_ON, {60, 1}});
}

static void
add_sysex_as_control(SmfWriter* const writer)
{
  smf_writer_control(writer, (SmfControl){0, 0, SMF_SYSEX, {0, 0}});
}

static void
add_control_above_127(SmfWriter* const writer)
{
  smf_writer_control(writer, (SmfControl){0, 0, MIDI_CONTROL, {64, 128}});
}

static void
add_tempo_0(SmfWriter* const writer)
{
  smf_writer_tempo(writer, (SmfTempo){0, 0});
}

static void
add_tempo_of_25_bits(SmfWriter* const writer)
{
  smf_writer_tempo(writer, (SmfTempo){0, 0x1000000});
}

static void
add_meter_of_thirds(SmfWriter* const writer)
{
  smf_writer_meter(writer, (SmfMeter){0, 4, 3, 24, 8});
}

static void
add_meter_without_beats(SmfWriter* const writer)
{
  smf_writer_meter(writer, (SmfMeter){0, 0, 4, 24, 8});
}

static void
add_meter_of_256_beats(SmfWriter* const writer)
{
  smf_writer_meter(writer, (SmfMeter){0, 256, 4, 24, 8});
}

static void
add_third_mode(SmfWriter* const writer)
{
  smf_writer_key(writer, (SmfKey){0, 0, 2});
}

static void
add_text_of_no_kind(SmfWriter* const writer)
{
  smf_writer_text(writer, 0, 0, (SmfTextKind)0x2F, "an end too early");
}

static void
add_8_sharps(SmfWriter* const writer)
{
  smf_writer_key(writer, (SmfKey){0, 8, 0});
}

static void
add_end_to_no_track(SmfWriter* const writer)
{
  smf_writer_end(writer, 1, 0);
}

static void
add_gap_too_long(SmfWriter* const writer)
{
  smf_writer_end(writer, 0, 0x10000000); // RP-001: one more than can be
}

static void
add_second_track(SmfWriter* const writer)
{
  (void)smf_writer_track(writer, "second");
}

Test(smf_writer, keeps_the_first_failure)
{
  static const Spoil spoils[] = {
    add_note_before_0,
    add_note_long_before_0,
    add_note_at_the_end_of_time,
    add_meter_of_256_beats,
    add_third_mode,
    add_text_of_no_kind,
    add_note_of_no_length,
    add_silent_note,
    add_note_to_no_track,
    add_note_as_control,
    add_sysex_as_control,
    add_control_above_127,
    add_tempo_0,
    add_tempo_of_25_bits,
    add_meter_of_thirds,
    add_meter_without_beats,
    add_8_sharps,
    add_end_to_no_track,
    add_gap_too_long,
    add_second_track,
  };
  for (size_t i = 0; i < sizeof(spoils) / sizeof(*spoils); ++i) {
    SmfWriter* const writer = writer_of(0, 96, SMF_PLAIN);
    (void)smf_writer_track(writer, "first");
    spoils[i](writer);
    smf_writer_text(writer, 0, 0, SMF_TEXT, "too late");

    const uint8_t* bytes = NULL;
    size_t         size  = 77;
    cr_expect_eq(
      smf_writer_bytes(writer, &bytes, &size), STATUS_RANGE, "row %zu", i);
    cr_expect_null(bytes);
    cr_expect_eq(size, 77);
    smf_writer_close(writer);
  }
}

Test(smf_writer, needs_a_track_in_format_0)
{
  SmfWriter* const writer = writer_of(0, 96, SMF_PLAIN);
  const uint8_t*   bytes  = NULL;
  size_t           size   = 0;
  cr_assert_eq(smf_writer_bytes(writer, &bytes, &size), STATUS_RANGE);
  smf_writer_close(writer);
}

Test(smf_writer, reaches_the_longest_gap)
{
  SmfWriter* const writer = writer_of(0, 96, SMF_PLAIN);
  (void)smf_writer_track(writer, NULL);
  smf_writer_end(writer, 0, 0x0FFFFFFF);
  smf_writer_end(writer, 0, 5); // Later than that it may end
  check_bytes(writer,
              "4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B 00 00 00 "
              "07 FF FF FF 7F FF 2F 00");
  smf_writer_close(writer);
}
