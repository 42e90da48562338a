#include "responder/record/take.h"

#include "core/midi/smf_writer.h"
#include "core/music/chart.h"
#include "core/rng.h"
#include "fixture.h"
#include "responder/session/turn.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BAR = 3840, BEAT = 960 };

static SmfWriter* writer;
static Take       take;
static Fault      fault;
static char       path[FIXTURE_PATH_CAPACITY];

static void
begin_file(void)
{
  fixture_path(path, "take.mid");
  cr_assert_eq(smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_PLAIN), 0);
}

static void
end_file(void)
{
  take_free(&take);
  smf_writer_close(writer);
  (void)remove(path);
}

static void
add(const unsigned track,
    const Tick     tick,
    const unsigned length,
    const unsigned pitch,
    const unsigned channel)
{
  smf_writer_note(writer,
                  (SmfNote){.tick     = tick,
                            .length   = length,
                            .pitch    = pitch & 0x7FU,
                            .velocity = 80,
                            .channel  = channel & 0xFU,
                            .track    = track & 0x3FFFU});
}

static Status
load(const char* const track, const double lead_in_beats)
{
  cr_assert_eq(smf_writer_save(writer, path, &fault), STATUS_OK);
  take_free(&take);
  return take_load(&take, path, (TakeChoice){track, lead_in_beats}, &fault);
}

// Which track

// Three tracks with one note each, by its pitch: a hand, drums, another hand
static void
three_tracks(const char* const first, const char* const last)
{
  begin_file();
  add(smf_writer_track(writer, first), 0, 480, 60, 0);
  add(smf_writer_track(writer, "drums"), 0, 480, 36, SMF_DRUM_CHANNEL);
  add(smf_writer_track(writer, last), 960, 480, 72, 3);
}

Test(take, hears_every_track_but_drums, .fini = end_file)
{
  three_tracks("left", "right");
  cr_assert_eq(load(NULL, 0.0), STATUS_OK, "%s", fault.text);
  cr_assert_eq(take.n_notes, 2);
  cr_assert_eq(take.notes[0].pitch, 60);
  cr_assert_eq(take.notes[1].pitch, 72);
  cr_assert_eq(take.last, 960);
}

Test(take, hears_the_track_named_player_alone, .fini = end_file)
{
  three_tracks("band", "player");
  cr_assert_eq(load(NULL, 0.0), STATUS_OK);
  cr_assert_eq(take.n_notes, 1);
  cr_assert_eq(take.notes[0].pitch, 72);
}

Test(take, hears_a_track_by_name_or_number, .fini = end_file)
{
  three_tracks("left", "3");
  cr_assert_eq(load("left", 0.0), STATUS_OK);
  cr_assert_eq(take.notes[0].pitch, 60);
  cr_assert_eq(load("1", 0.0), STATUS_OK);
  cr_assert_eq(take.notes[0].pitch, 60);
  cr_assert_eq(load("2", 0.0), STATUS_OK); // Even drums, if they are asked for
  cr_assert_eq(take.notes[0].pitch, 36);
  cr_assert_eq(load("3", 0.0), STATUS_OK);
  cr_assert_eq(take.notes[0].pitch, 72);
}

typedef struct {
  char track[24];
} TrackRow;

ParameterizedTestParameters(take, missing_track)
{
  static TrackRow rows[] = {
    {"0"}, {"4"}, {"middle"}, {""}, {"-1"}, {"1x"}, {"99999999999999999999"}};
  return cr_make_param_array(TrackRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(TrackRow* row, take, missing_track, .fini = end_file)
{
  three_tracks("left", "right");
  cr_assert_eq(load(row->track, 0.0), STATUS_MISSING, "%s", row->track);
  cr_assert_not_null(strstr(fault.text, "there are 3, numbered from 1"));
  cr_assert_str_eq(fault.file, path);
  cr_assert_null(take.notes);
}

Test(take, tells_of_a_file_that_is_not_there, .fini = end_file)
{
  begin_file();
  (void)smf_writer_track(writer, "");
  cr_assert_eq(take_load(&take, "no/such.mid", (TakeChoice){NULL, 0.0}, &fault),
               STATUS_MISSING);
  cr_assert_str_eq(fault.file, "no/such.mid");
}

// Time

Test(take, counts_from_bar_one_after_the_lead_in, .fini = end_file)
{
  begin_file();
  const unsigned track = smf_writer_track(writer, "");
  add(track, 4 * BEAT - 480, 470, 67, 0); // A pick-up
  add(track, 4 * BEAT, 960, 64, 0);
  cr_assert_eq(load(NULL, 4.0), STATUS_OK);
  cr_assert_eq(take.notes[0].tick, -480);
  cr_assert_eq(take.notes[1].tick, 0);
  cr_assert_eq(load(NULL, 2.5), STATUS_OK);
  cr_assert_eq(take.notes[1].tick, 1440);
}

// Four quarters in 2 s, four in 4 s: eight quarters in 6 s are 80 a minute
Test(take, has_the_mean_tempo_of_its_file, .fini = end_file)
{
  begin_file();
  const unsigned track = smf_writer_track(writer, "");
  smf_writer_tempo(writer, (SmfTempo){0, 500000});
  smf_writer_tempo(writer, (SmfTempo){4 * BEAT, 1000000});
  add(track, 0, 8 * BEAT, 60, 0);
  cr_assert_eq(load(NULL, 0.0), STATUS_OK);
  cr_assert_float_eq(take.tempo_bpm, 80.0, 0.005);
  cr_assert_float_eq(take_tempo(&take), take.tempo_bpm, 1e-12);
}

Test(take, is_heard_at_the_nearest_tempo_there_is, .fini = end_file)
{
  static const struct {
    uint32_t us_per_quarter;
    double   tempo_bpm;
  } rows[] = {
    {1, TAKE_TEMPO_MOST},
    {149999, TAKE_TEMPO_MOST},
    {150000, 400.0},
    {187500, 320.0},
    {3000000, 20.0},
    {16777215, TAKE_TEMPO_LEAST},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    begin_file();
    const unsigned track = smf_writer_track(writer, "");
    smf_writer_tempo(writer, (SmfTempo){0, rows[i].us_per_quarter});
    add(track, 0, 8 * BEAT, 60, 0);
    cr_assert_eq(load(NULL, 0.0), STATUS_OK);
    cr_assert_float_eq(take_tempo(&take), rows[i].tempo_bpm, 0.005);
    if (i + 1 < sizeof(rows) / sizeof(*rows)) {
      end_file();
    }
  }
}

// 120 where a file names none: RP-001, "Set Tempo"
Test(take, is_at_120_without_a_tempo, .fini = end_file)
{
  begin_file();
  (void)smf_writer_track(writer, "");
  cr_assert_eq(load(NULL, 0.0), STATUS_OK);
  cr_assert_eq(take.n_notes, 0);
  cr_assert_eq(take.last, 0);
  cr_assert_float_eq(take.tempo_bpm, 120.0, 1e-9);
}

Test(take, hears_unisons_of_two_tracks_as_one_note, .fini = end_file)
{
  begin_file();
  const unsigned left  = smf_writer_track(writer, "left");
  const unsigned right = smf_writer_track(writer, "right");
  add(left, 0, 100, 64, 0);
  add(left, 0, 400, 60, 0);
  add(right, 0, 300, 64, 1);
  add(right, 0, 50, 60, 1);
  cr_assert_eq(load(NULL, 0.0), STATUS_OK);
  cr_assert_eq(take.n_notes, 2);
  cr_assert_eq(take.notes[0].pitch, 60);
  cr_assert_eq(take.notes[0].length, 400);
  cr_assert_eq(take.notes[1].pitch, 64);
  cr_assert_eq(take.notes[1].length, 300);
}

// Room

typedef struct {
  char     name[48];
  unsigned form_bars;
  unsigned turn_bars;
  bool     room_first;
  Tick     tick;
  Tick     moved;
} RoomRow;

ParameterizedTestParameters(take, room)
{
  static RoomRow rows[] = {
    {"the first bar stays", 12, 4, false, 100, 100},
    {"bar 5 becomes bar 9", 12, 4, false, 4 * BAR + 100, 8 * BAR + 100},
    {"a pick-up to bar 5 goes along",
     12,
     4,
     false,
     4 * BAR - 480,
     8 * BAR - 480},
    {"before it, it does not", 12, 4, false, 4 * BAR - 481, 4 * BAR - 481},
    {"a pick-up to bar 1 stays", 12, 4, false, -480, -480},
    {"earlier still, too", 12, 4, false, -3000, -3000},
    {"partner first: bar 1 is bar 5", 12, 4, true, 100, 4 * BAR + 100},
    {"partner first: its pick-up", 12, 4, true, -480, 4 * BAR - 480},
    {"second chorus", 12, 4, false, 12 * BAR, 24 * BAR},
    {"ten bars: the short group", 10, 4, false, 8 * BAR, 16 * BAR},
    {"ten bars: the next chorus", 10, 4, false, 10 * BAR, 20 * BAR},
    {"ten bars, partner first", 10, 4, true, 8 * BAR, 18 * BAR},
    {"three bars in fours", 3, 4, false, 3 * BAR, 6 * BAR},
    {"three bars in fours, partner", 3, 4, true, 4 * BAR, 10 * BAR},
    {"one bar in ones", 1, 1, false, 5 * BAR, 10 * BAR},
  };
  return cr_make_param_array(RoomRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(RoomRow* row, take, room)
{
  Note notes[] = {{row->tick, 100, 60, 80}};
  Take made    = {.notes = notes, .n_notes = 1};
  take_make_room(&made,
                 (TakeRoom){.form       = row->form_bars * BAR,
                            .group      = row->turn_bars * BAR,
                            .pick_up    = 480,
                            .room_first = row->room_first});
  cr_assert_eq(notes[0].tick, row->moved, "%s", row->name);
  cr_assert_eq(made.last, row->moved);
}

// A form of as many chords as bars, each of its own
static void
make_chart(Chart* const chart, const unsigned n_bars)
{
  static const char* const roots[] = {
    "C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};
  Meter meter;
  Key   key;
  char  text[CHART_FAULT_CAPACITY];
  cr_assert_eq(meter_parse(&meter, "4/4"), STATUS_OK);
  cr_assert_eq(key_parse(&key, "C"), STATUS_OK);
  chart_begin(chart, "Chords", meter, key);
  for (unsigned bar = 0; bar < n_bars; ++bar) {
    char symbol[16];
    (void)snprintf(
      symbol, sizeof(symbol), "%s%s", roots[bar % 12], bar < 12 ? "7" : "m7");
    cr_assert_eq(chart_add_bar(chart, symbol, text), STATUS_OK, "%s", text);
  }
}

// What room is for: a note stays on its chord, and comes into a player's turn
Test(take, keeps_every_note_on_its_chord)
{
  static Chart before;
  static Chart after;
  Rng          rng = rng_seed(5, 0);
  for (unsigned i = 0; i < 3000; ++i) {
    const unsigned n_bars    = 1 + rng_below(&rng, 20);
    const unsigned turn_bars = 1U << rng_below(&rng, 3);
    const bool     partner   = rng_below(&rng, 2);
    const Tick     tick      = rng_below(&rng, 5 * n_bars * BAR);
    Note           notes[]   = {{tick, 100, 60, 80}};
    Take           made      = {.notes = notes, .n_notes = 1};
    make_chart(&before, n_bars);
    make_chart(&after, n_bars);
    cr_assert_eq(chart_make_room(&after, turn_bars), STATUS_OK);
    take_make_room(&made,
                   (TakeRoom){.form       = chart_ticks(&before),
                              .group      = turn_bars * BAR,
                              .room_first = partner});

    const Tick moved = notes[0].tick;
    cr_assert(chord_equals(chart_chord_at(&before, tick),
                           chart_chord_at(&after, moved)));
    cr_assert_eq(moved % BAR, tick % BAR);
    const TurnPlan plan = {
      .bar_ticks       = BAR,
      .bars_per_chorus = after.n_bars,
      .bars_per_turn   = turn_bars,
      .player_begins   = !partner,
      .makes_room      = true,
    };
    Turn turn = turn_at(plan, 1);
    while (turn.end <= moved) {
      turn = turn_at(plan, turn.index + 1);
    }
    cr_assert(turn.by_player,
              "%u bars in %u: tick %ld in turn %u",
              n_bars,
              turn_bars,
              (long)moved,
              turn.index);
  }
}

Test(take, shifts_all_notes)
{
  Note notes[] = {{10, 100, 60, 80}, {700, 100, 62, 80}};
  Take made    = {.notes = notes, .n_notes = 2, .last = 700};
  take_shift(&made, -960);
  cr_assert_eq(notes[0].tick, -950);
  cr_assert_eq(notes[1].tick, -260);
  cr_assert_eq(made.last, -260);
}

// Keys

static void
check_keys(Note* const           notes,
           const size_t          n_notes,
           const HeardKey* const expected,
           const size_t          n_expected)
{
  const Take made   = {.notes = notes, .n_notes = n_notes};
  HeardKey*  keys   = NULL;
  size_t     n_keys = 0;
  cr_assert_eq(take_keys(&made, &keys, &n_keys), STATUS_OK);
  cr_assert_eq(n_keys, n_expected);
  for (size_t i = 0; i < n_keys; ++i) {
    cr_assert_eq(keys[i].tick, expected[i].tick, "key %zu", i);
    cr_assert_eq(keys[i].pitch, expected[i].pitch, "key %zu", i);
    cr_assert_eq(keys[i].velocity, expected[i].velocity, "key %zu", i);
  }
  free(keys);
}

Test(take, lets_keys_up_before_others_go_down)
{
  Note           notes[]    = {{0, 480, 60, 70}, {480, 480, 60, 80}};
  const HeardKey expected[] = {
    {0, 60, 70}, {480, 60, 0}, {480, 60, 80}, {960, 60, 0}};
  check_keys(notes, 2, expected, 4);
}

Test(take, ends_a_note_where_its_key_is_struck_again)
{
  Note notes[] = {{0, 1000, 60, 70}, {100, 100, 64, 75}, {480, 240, 60, 80}};
  const HeardKey expected[] = {
    {0, 60, 70}, {100, 64, 75}, {200, 64, 0}, {480, 60, 80}, {720, 60, 0}};
  check_keys(notes, 3, expected, 5);
}

Test(take, has_no_keys_without_notes)
{
  check_keys(NULL, 0, NULL, 0);
}

// By chance: in order, and each key that goes down is let up or struck again
Test(take, lets_every_key_up)
{
  static Note notes[400];
  Rng         rng = rng_seed(9, 0);
  for (unsigned round = 0; round < 200; ++round) {
    Tick tick = -3000;
    for (unsigned i = 0; i < 400; ++i) {
      tick += 1 + rng_below(&rng, 200);
      notes[i] = (Note){tick,
                        1 + rng_below(&rng, 2000),
                        (uint8_t)rng_below(&rng, 128),
                        (uint8_t)(1 + rng_below(&rng, 127))};
    }
    const Take made         = {.notes = notes, .n_notes = 400};
    HeardKey*  keys         = NULL;
    size_t     n_keys       = 0;
    size_t     n_down       = 0;
    bool       is_down[128] = {false};
    cr_assert_eq(take_keys(&made, &keys, &n_keys), STATUS_OK);
    for (size_t i = 0; i < n_keys; ++i) {
      cr_assert(i == 0 || keys[i - 1].tick <= keys[i].tick);
      cr_assert(keys[i].velocity || is_down[keys[i].pitch]);
      is_down[keys[i].pitch] = keys[i].velocity;
      n_down += keys[i].velocity > 0;
    }
    cr_assert_eq(n_down, 400);
    for (unsigned pitch = 0; pitch < 128; ++pitch) {
      cr_assert_not(is_down[pitch]);
    }
    free(keys);
  }
}
