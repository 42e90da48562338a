#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "support/feels.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static Feel   feel;
static Faults faults;

static Status
read_feel(const char* const text)
{
  Settings* settings = NULL;
  Status    status =
    settings_read(&settings, "feels/tap.cfg", text, strlen(text), &faults);
  if (status == STATUS_OK) {
    status = feel_file_read(&feel, settings);
  }
  settings_close(settings);
  return status;
}

static const char good[] =
  "title = \"Tap\";\n"
  "meters = [\"4/4\", \"3/4\"];\n"
  "swing = \"by tempo\";\n"
  "ride_extra = 0.5;\n"
  "bass_line = \"patterns\";\n"
  "chords = (\n"
  "  { bars = 2; layer = 1; beats = [1, 2.5, 8.33]; lengths = [1, 0.25, "
  "0.33];\n"
  "    velocities = 70; meter = \"4/4\"; },\n"
  "  { beats = []; }\n"
  ");\n"
  "bass = (\n"
  "  { beats = [1, 3]; tones = [\"root\", \"approach\"]; velocities = [90, "
  "80]; "
  "}\n"
  ");\n"
  "drums = (\n"
  "  { strokes = ( { drum = \"ride cymbal 1\"; beats = [1, 2, 2.67]; },\n"
  "                { drum = 44; beats = [2]; velocities = 100; } ); }\n"
  ");\n";

static void
check_hit(const FeelHit* const hit,
          const Tick           tick,
          const Tick           length,
          const unsigned       velocity,
          const unsigned       voice)
{
  cr_assert_eq(hit->tick, tick);
  cr_assert_eq(hit->length, length);
  cr_assert_eq(hit->velocity, velocity);
  cr_assert_eq(hit->voice, voice);
}

Test(feel_file, reads_all_there_is)
{
  cr_assert_eq(read_feel(good), STATUS_OK, "%s", faults.faults[0].text);
  cr_assert_str_eq(feel.name, "tap");
  cr_assert_eq(feel.n_meters, 2);
  cr_assert_eq(feel.meters[1].numerator, 3);
  cr_assert(feel.swing_by_tempo);
  cr_assert_float_eq(feel.ride_swing_extra, 0.5, 1e-12);
  cr_assert_eq(feel.bass_line, BASS_LINE_PATTERN);

  cr_assert_eq(feel.chords.n_patterns, 2);
  const FeelPattern* const chords = &feel.chords.patterns[0];
  cr_assert_eq(chords->n_bars, 2);
  cr_assert_eq(chords->layer, 1);
  cr_assert_eq(chords->meter.numerator, 4);
  cr_assert_eq(chords->n_hits, 3);
  check_hit(&chords->hits[0], 0, 960, 70, 0);
  check_hit(&chords->hits[1], 1440, 240, 70, 0);
  check_hit(&chords->hits[2], 7 * 960 + 320, 320, 70, 0); // A third of a beat
  cr_assert_eq(feel.chords.patterns[1].n_hits, 0);
  cr_assert_eq(feel.chords.patterns[1].n_bars, 1);
  cr_assert_eq(feel.chords.patterns[1].meter.numerator, 0);

  const FeelPattern* const bass = &feel.bass.patterns[0];
  cr_assert_eq(feel.bass.n_patterns, 1);
  check_hit(&bass->hits[0], 0, 1920, 90, BASS_ROOT);
  check_hit(&bass->hits[1], 1920, 1920, 80, BASS_APPROACH);

  const FeelPattern* const drums = &feel.drums.patterns[0];
  cr_assert_eq(drums->n_hits, 4);
  check_hit(&drums->hits[0], 0, 1, 80, 51);
  check_hit(&drums->hits[1], 960, 1, 100, 44); // Merged, rising
  check_hit(&drums->hits[2], 960, 1, 80, 51);
  check_hit(&drums->hits[3], 1600, 1, 80, 51);
}

Test(feel_file, counts_dotted_beats_in_compound_meters)
{
  cr_assert_eq(read_feel("title = \"\"; meters = \"12/8\"; swing = 1.0;"
                         "bass_line = \"two\"; chords = ( { beats = [1, 1.33, "
                         "1.67, 4.5]; lengths = 0.33; } );"),
               STATUS_OK,
               "%s",
               faults.faults[0].text);
  const FeelHit* const hits = feel.chords.patterns[0].hits;
  cr_assert_eq(hits[0].tick, 0);
  cr_assert_eq(hits[1].tick, 480); // The second of three eighths
  cr_assert_eq(hits[2].tick, 960);
  cr_assert_eq(hits[3].tick, 3 * 1440 + 720);
  cr_assert_eq(hits[0].length, 480);
}

Test(feel_file, reads_swing_as_word_or_ratio)
{
  static const char rest[] = "title = \"\"; meters = \"4/4\"; bass_line = "
                             "\"two\"; swing = ";
  static const struct {
    const char* text;
    double      ratio;
  } rows[] = {
    {"1;", 1.0}, {"1.5;", 1.5}, {"4.0;", 4.0}, {"\"straight\";", 1.0}};
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char text[128];
    (void)snprintf(text, sizeof(text), "%s%s", rest, rows[i].text);
    cr_assert_eq(read_feel(text), STATUS_OK);
    cr_assert_not(feel.swing_by_tempo);
    cr_assert_float_eq(feel.swing_ratio, rows[i].ratio, 1e-12);
  }
}

typedef struct {
  char     good[48]; ///< What is taken out of the good text ..
  char     bad[64];  ///< .. and put in its place
  unsigned line;
  char     says[64];
} FaultRow;

ParameterizedTestParameters(feel_file, fault)
{
  static FaultRow rows[] = {
    {"\"3/4\"]", "\"7/4\"]", 2, "meter \"7/4\" is not known"},
    {"\"3/4\"]", "\"12/8\"]", 9, "beats of two kinds"},
    {"[\"4/4\", \"3/4\"]", "[]", 2, "meters holds 0 values"},
    {"[\"4/4\", \"3/4\"]", "[\"3/4\"]", 8, "not among the feel's meters"},
    {"\"by tempo\"", "\"by temp\"", 3, "write by tempo"},
    {"\"by tempo\"", "0.9", 3, "swing 0.9 is outside 1..4"},
    {"0.5", "1.6", 4, "ride_extra 1.6 is outside 0..1.5"},
    {"\"patterns\"", "\"paterns\"", 5, "write patterns"},
    {"\"patterns\"", "\"two\"", 11, "never played"},
    {"\"patterns\"", "5", 5, "bass_line is no text"},
    {"bass = (", "bas = (", 5, "no patterns for the bass"},
    {"bass = (", "bas = (", 11, "bas is not known; write bass"},
    {"bars = 2", "bars = 3", 7, "write 1, 2 or 4"},
    {"bars = 2", "bars = 5", 7, "bars 5 is outside 1..4"},
    {"layer = 1", "layer = 2", 7, "layer 2 is outside 0..1"},
    {"[1, 2.5, 8.33]", "[1, 2.5, 9]", 7, "beats 9 is outside 1..8.95"},
    {"[1, 2.5, 8.33]", "[0, 2.5, 8]", 7, "beats 0 is outside"},
    {"[1, 2.5, 8.33]", "[1, 8.5, 8]", 7, "beat 8 does not come after beat 8.5"},
    {"[1, 2.5, 8.33]", "[1, 2, 2]", 7, "beat 2 does not come after beat 2"},
    {"[1, 2.5, 8.33]", "1", 7, "beats is no list"},
    {"beats = []", "lengths = 1", 9, "beats is missing"},
    {"[1, 0.25, 0.33]", "[1, 0.25]", 7, "lengths holds 2 values for 3 beats"},
    {"[1, 0.25, 0.33]", "[1, 0.25, 0]", 7, "lengths 0 is outside"},
    {"velocities = 70", "velocities = 0", 8, "velocities 0 is outside 1..127"},
    {"velocities = 70", "tones = []", 8, "tones is not known"},
    {"{ beats = []; }", "7", 9, "chords holds no settings"},
    {"tones =", "tone =", 12, "tone is not known; write tones"},
    {"drum = 44;", "drum = 44; loud = 1;", 16, "loud is not known"},
    {"\"approach\"", "\"third\"", 12, "write root, fifth, octave or approach"},
    {"[\"root\", \"approach\"]", "[\"root\"]", 12, "tones holds 1 values"},
    {"\"ride cymbal 1\"", "\"ride cymbal\"", 15, "write ride cymbal 1"},
    {"drum = 44", "drum = 34", 16, "drum 34 is outside 35..81"},
    {"drum = 44;", "", 16, "drum is missing"},
    {"strokes = (", "stroke = (", 15, "stroke is not known; write strokes"},
    {"title = \"Tap\";", "", 0, "title is missing"},
    {"swing = \"by tempo\";", "", 0, "swing is missing"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, feel_file, fault)
{
  char              text[2 * sizeof(good)];
  const char* const place = strstr(good, row->good);
  cr_assert_not_null(place);
  (void)snprintf(text,
                 sizeof(text),
                 "%.*s%s%s",
                 (int)(place - good),
                 good,
                 row->bad,
                 place + strlen(row->good));
  cr_assert_eq(read_feel(text), STATUS_SYNTAX);
  bool is_said = false;
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    const Fault* const fault = &faults.faults[i];
    is_said =
      is_said || (fault->line == row->line && strstr(fault->text, row->says));
  }
  cr_assert(is_said, "%u: %s", faults.faults[0].line, faults.faults[0].text);
}

// Without any meter, no beat can be said to lie outside
Test(feel_file, asks_for_the_meter_alone)
{
  cr_assert_eq(read_feel("title = \"\"; meters = [\"7/4\"]; swing = 1;"
                         "bass_line = \"two\"; chords = ( { beats = [7]; } );"),
               STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_not_null(strstr(faults.faults[0].text, "7/4"));
}

Test(feel_file, asks_for_a_pattern_for_each_meter)
{
  cr_assert_eq(read_feel("title = \"\"; meters = [\"4/4\", \"3/4\"]; swing = 1;"
                         "bass_line = \"two\";\n"
                         "chords = ( { meter = \"4/4\"; beats = [1]; } );"),
               STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_not_null(strstr(faults.faults[0].text, "none for 3/4"));
}

Test(feel_file, takes_64_hits_and_no_more)
{
  for (unsigned n = 64; n <= 65; ++n) {
    char  text[2048];
    char* end = text + sprintf(text,
                               "title = \"\"; meters = \"4/4\"; swing = 1; "
                               "bass_line = \"two\"; chords = ( { bars = 4; "
                               "beats = [ 1");
    for (unsigned i = 1; i < n; ++i) {
      end += sprintf(end, ", %.2f", 1.0 + i * 0.24);
    }
    (void)sprintf(end, " ]; } );");
    cr_assert_eq(read_feel(text), n == 64 ? STATUS_OK : STATUS_SYNTAX);
  }
  cr_assert_not_null(strstr(faults.faults[0].text, "65 values"));
}

Test(feel_file, reads_what_is_shipped)
{
  cr_assert_eq(setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1), 0);
  cr_assert_eq(setenv("XDG_CONFIG_HOME", "/nowhere", 1), 0);
  PlaceList list;
  cr_assert_eq(place_list(PLACE_FEELS, &list), STATUS_OK);
  cr_assert_gt(list.n_entries, 0);
  for (size_t i = 0; i < list.n_entries; ++i) {
    char        path[PLACE_PATH_CAPACITY];
    char        text[FAULT_TEXT_CAPACITY];
    const char* name = list.entries[i].name;
    Fault       fault;
    cr_assert_eq(place_find(PLACE_FEELS, name, path, &fault), STATUS_OK);
    cr_assert_eq(feel_file_load(&feel, path, &faults),
                 STATUS_OK,
                 "%s",
                 fault_text(&faults.faults[0], text, sizeof(text)));
    cr_assert_str_eq(feel.name, name);
  }
  place_list_free(&list);
}

static void
is_same_part(const FeelPart* const a, const FeelPart* const b)
{
  cr_assert_eq(a->n_patterns, b->n_patterns);
  for (unsigned i = 0; i < a->n_patterns; ++i) {
    const FeelPattern* const left  = &a->patterns[i];
    const FeelPattern* const right = &b->patterns[i];
    cr_assert_eq(left->n_bars, right->n_bars);
    cr_assert_eq(left->layer, right->layer);
    cr_assert_eq(left->meter.numerator, right->meter.numerator);
    cr_assert_eq(left->meter.denominator, right->meter.denominator);
    cr_assert_eq(left->n_hits, right->n_hits);
    for (unsigned k = 0; k < left->n_hits; ++k) {
      const FeelHit* const hit = &right->hits[k];
      check_hit(
        &left->hits[k], hit->tick, hit->length, hit->velocity, hit->voice);
    }
  }
}

static char drawn_text[262144];
static Feel drawn;

// Any feel that keeps to the rules is read, and as it was written
Test(feel_file, reads_any_that_is_right)
{
  for (unsigned seed = 0; seed < 200; ++seed) {
    Rng rng = rng_seed(seed, 21);
    feels_draw(&drawn, &rng);
    faults.n_faults = 0;
    (void)feels_text(&drawn, drawn_text, sizeof(drawn_text));
    cr_assert_eq(read_feel(drawn_text),
                 STATUS_OK,
                 "feel %u, line %u: %s",
                 seed,
                 faults.faults[0].line,
                 faults.faults[0].text);
    cr_assert_eq(feel.n_meters, drawn.n_meters);
    cr_assert_eq(feel.swing_by_tempo, drawn.swing_by_tempo);
    cr_assert_float_eq(feel.swing_ratio, drawn.swing_ratio, 1e-9);
    cr_assert_float_eq(feel.ride_swing_extra, drawn.ride_swing_extra, 1e-9);
    cr_assert_eq(feel.bass_line, drawn.bass_line);
    is_same_part(&feel.chords, &drawn.chords);
    is_same_part(&feel.bass, &drawn.bass);
    is_same_part(&feel.drums, &drawn.drums);
  }
}

/// Put `bad` in the place of the first value of that name that holds something;
/// false if there is none.
static bool
spoil(const char* const name, const char* const bad)
{
  static char rest[sizeof(drawn_text)];
  char*       at = drawn_text;
  while ((at = strstr(at, name))) {
    const char* const value = at + strlen(name);
    if (strncmp(value, " = [ ]", 6) != 0 && strncmp(value, " = ", 3) == 0) {
      (void)snprintf(rest, sizeof(rest), "%s", strchr(at, ';'));
      const size_t room = sizeof(drawn_text) - (size_t)(at - drawn_text);
      (void)snprintf(at, room, "%s%s", bad, rest);
      return true;
    }
    at += strlen(name);
  }
  return false;
}

// ... and what is a hair beyond the ends is refused, and said in its line
Test(feel_file, refuses_any_that_is_wrong)
{
  static const char* const rows[][2] = {
    {"title", "titel = \"Drawn\""},
    {"meters", "meters = [ ]"},
    {"meters", "meters = [ \"7/4\" ]"},
    {"swing", "swing = 0.99"},
    {"swing", "swing = 4.01"},
    {"swing", "swing = \"often\""},
    {"ride_extra", "ride_extra = -0.01"},
    {"ride_extra", "ride_extra = 1.51"},
    {"bass_line", "bass_line = \"three\""},
    {"bars", "bars = 0"},
    {"bars", "bars = 3"},
    {"bars", "bars = 5"},
    {"layer", "layer = -1"},
    {"layer", "layer = 2"},
    {"velocities", "velocities = 0"},
    {"velocities", "velocities = 128"},
    {"lengths", "lengths = 0.049"},
    {"lengths", "lengths = 21"},
    {"beats", "beats = [ 0.99 ]"},
    {"beats", "beats = [ 2, 2 ]"},
    {"beats", "beats = [ 21 ]"},
    {"tones", "tones = \"third\""},
    {"drum", "drum = 34"},
    {"drum", "drum = 82"},
  };
  enum { N_ROWS = sizeof(rows) / sizeof(*rows) };
  unsigned n_tried[N_ROWS] = {0};
  for (unsigned seed = 0; seed < 200; ++seed) {
    Rng            rng = rng_seed(seed, 21);
    const unsigned row = seed % N_ROWS;
    feels_draw(&drawn, &rng);
    faults.n_faults = 0;
    (void)feels_text(&drawn, drawn_text, sizeof(drawn_text));
    if (spoil(rows[row][0], rows[row][1])) {
      ++n_tried[row];
      cr_assert_eq(read_feel(drawn_text),
                   STATUS_SYNTAX,
                   "feel %u: %s",
                   seed,
                   rows[row][1]);
      cr_assert_gt(faults.n_faults, 0);
      cr_assert_gt(faults.faults[faults.n_faults - 1].line, 0);
    }
  }
  for (unsigned row = 0; row < N_ROWS; ++row) {
    cr_assert_gt(n_tried[row], 1, "%s", rows[row][1]);
  }
}
