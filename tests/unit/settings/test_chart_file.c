#include "core/settings/chart_file.h"
#include "core/settings/places.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static ChartFile chart;
static ChartFile moved;
static Faults    faults;
static Table     table;

static void
use_shipped_files(void)
{
  cr_assert_eq(setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1), 0);
  cr_assert_eq(setenv("XDG_CONFIG_HOME", "/nowhere", 1), 0);
}

TestSuite(chart_file, .init = use_shipped_files);

static Status
read_chart(ChartFile* const file, const char* const text)
{
  Settings* settings = NULL;
  Status    status =
    settings_read(&settings, "t.cfg", text, strlen(text), &faults);
  if (status == STATUS_OK) {
    status = chart_file_read(file, settings);
  }
  settings_close(settings);
  return status;
}

static const char good[] = "title = \"Test\";\n"
                           "meter = \"4/4\";\n"
                           "key = \"A minor\";\n"
                           "scale = [\"minor blues\", \"D dorian\", "
                           "\"by chord\"];\n"
                           "tempo = 90;\n"
                           "feel = \"swing\";\n"
                           "bars = [\"i7\", \"Dm7 / / E7\",\n\"%\"];\n";

Test(chart_file, reads_all_there_is)
{
  char text[SCALE_TEXT_CAPACITY];
  cr_assert_eq(read_chart(&chart, good), STATUS_OK);
  cr_assert_str_eq(chart.chart.title, "Test");
  cr_assert_eq(chart.chart.meter.numerator, 4);
  cr_assert(chart.chart.key.is_minor);
  cr_assert_eq(chart.chart.n_bars, 3);
  cr_assert_eq(chart.chart.n_changes, 5);
  cr_assert_str_eq(chart.feel, "swing");
  cr_assert_float_eq(chart.tempo_bpm, 90.0, 1e-12);
  cr_assert_str_eq(scale_text(chart.chart.scales[0], text), "A minor blues");
  cr_assert_str_eq(scale_text(chart.chart.scales[1], text), "D dorian");
  cr_assert(chart.chart.scale_by_chord[2]);
  cr_assert_not(chart.chart.scale_by_chord[1]);
}

Test(chart_file, does_without_suggestions)
{
  cr_assert_eq(read_chart(&chart,
                          "title = \"\"; meter = \"3/4\"; key = \"C\"; scale = "
                          "\"major\"; bars = (\"I\")"),
               STATUS_OK,
               "%s",
               faults.faults[0].text);
  cr_assert_str_eq(chart.feel, "");
  cr_assert_float_eq(chart.tempo_bpm, 0.0, 1e-12);
}

typedef struct {
  char     good[32]; ///< What is taken out of the good text ..
  char     bad[48];  ///< .. and put in its place
  unsigned line;
  char     says[64];
} FaultRow;

ParameterizedTestParameters(chart_file, fault)
{
  static FaultRow rows[] = {
    {"\"4/4\"", "\"7/8\"", 2, "meter \"7/8\" is not known; write 2/4"},
    {"\"4/4\"", "4", 2, "meter is no text"},
    {"\"A minor\"", "\"H minor\"", 3, "key \"H minor\" is not known"},
    {"\"A minor\"", "\"Am\"", 3, "key \"Am\" is not known"},
    {"\"minor blues\"", "\"minor bluse\"", 4, "write minor blues"},
    {"\"D dorian\"", "\"D doriann\"", 4, "write dorian"},
    {"\"by chord\"", "\"bychord\"", 4, "write by chord"},
    {"\"by chord\"", "\"xyz\"", 4, "barter charts lists all"},
    {", \"by chord\"]", "]", 4, "there are 2 scales for 3 bars"},
    {"[\"minor blues\", \"D dorian\", ", "[1, 2, ", 4, "scale is no text"},
    {"90", "29", 5, "tempo 29 is outside 30..320"},
    {"90", "321", 5, "tempo 321 is outside 30..320"},
    {"90", "\"fast\"", 5, "tempo is no number"},
    {"\"swing\"", "1", 6, "feel is no text"},
    {"\"i7\"", "\"j7\"", 7, "bar 1: "},
    {"\"i7\"", "\"%\"", 7, "bar 1: % in the first bar"},
    {"\"i7\"", "7", 7, "bars is no text"},
    {"Dm7 / / E7", "Dm7 / / / E7", 7, "bar 2: "},
    {"\"%\"", "\"\"", 8, "bar 3: "},
    {"\"%\"", "\"% C\"", 8, "bar 3: "},
    {"tempo", "tempoo", 5, "tempoo is not known; write tempo"},
    {"bars = [", "x = [", 0, "bars is missing; write bars = "},
    {"title = \"Test\";", "", 0, "title is missing"},
    {"meter = \"4/4\";", "", 0, "meter is missing"},
    {"key = \"A minor\";", "", 0, "key is missing"},
    {"\"Test\"", "\"\\xFF\"", 1, "title holds bytes"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, chart_file, fault)
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
  cr_assert_eq(read_chart(&chart, text), STATUS_SYNTAX);
  bool is_said = false;
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    const Fault* const fault = &faults.faults[i];
    is_said =
      is_said || (fault->line == row->line && strstr(fault->text, row->says));
  }
  cr_assert(is_said, "%u: %s", faults.faults[0].line, faults.faults[0].text);
}

Test(chart_file, notes_all_faults_at_once)
{
  cr_assert_eq(read_chart(&chart,
                          "title = 1;\n"
                          "meter = \"4/4\";\n"
                          "key = \"X\";\n"
                          "scale = \"none\";\n"
                          "bars = [\"I\",\n\"what\",\n\"%\",\n\"who\"];\n"
                          "tempo = 0;\n"
                          "fele = \"swing\";\n"),
               STATUS_SYNTAX);
  static const unsigned lines[] = {1, 3, 4, 6, 8, 9, 10};
  cr_assert_eq(faults.n_faults, sizeof(lines) / sizeof(*lines));
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    cr_assert_eq(faults.faults[i].line, lines[i]);
  }
}

// Without its meter, no bar can be said to be too long
Test(chart_file, asks_for_the_meter_alone)
{
  cr_assert_eq(read_chart(&chart,
                          "title = \"\"; meter = \"7/4\"; key = \"C\"; scale = "
                          "\"major\"; bars = [\"C / / / / / /\"];"),
               STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_not_null(strstr(faults.faults[0].text, "meter"));
}

Test(chart_file, takes_512_bars_and_no_more)
{
  static char text[16384];
  for (unsigned n = 512; n <= 513; ++n) {
    char* end =
      text + sprintf(text,
                     "title = \"\"; meter = \"4/4\"; key = \"C\"; scale = "
                     "\"major\"; bars = [ \"I\"");
    for (unsigned i = 1; i < n; ++i) {
      end += sprintf(end, ", \"%%\"");
    }
    (void)sprintf(end, " ];");
    cr_assert_eq(read_chart(&chart, text),
                 n == 512 ? STATUS_OK : STATUS_SYNTAX);
  }
  cr_assert_not_null(strstr(faults.faults[0].text, "513"));
}

typedef struct {
  char chart[32];
  char form[32];
} FormRow;

// tests/tables/blues_forms.csv, see SOURCES.md there
ParameterizedTestParameters(chart_file, blues)
{
  static FormRow rows[] = {
    {"blues", "basic_turnaround"},
    {"blues-quick-change", "quick_change"},
    {"blues-minor", "minor"},
    {"blues-jazz", "jazz"},
  };
  return cr_make_param_array(FormRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
load_shipped(const char* const name)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  cr_assert_eq(place_find(PLACE_CHARTS, name, path, &fault), STATUS_OK);
  cr_assert_eq(chart_file_load(&chart, path, &faults),
               STATUS_OK,
               "%s",
               faults.faults[0].text);
}

/// Write the chords of a bar, with blanks between.
static void
write_bar(const Chart* const form, const unsigned bar, char text[64])
{
  const Tick length = meter_bar_ticks(form->meter);
  text[0]           = '\0';
  for (unsigned i = 0; i < form->n_changes; ++i) {
    if (form->changes[i].tick / length == bar) {
      char symbol[CHORD_TEXT_CAPACITY];
      strcat(text, text[0] ? " " : "");
      strcat(text, chord_text(&form->changes[i].chord, symbol));
    }
  }
}

/// Compare a chart, in C and in F, with a form of the table; return how many
/// bars that has.
static unsigned
compare_with_form(const char* const form)
{
  static const Spelling tonics[]  = {{0, 0}, {3, 0}};
  static const char*    columns[] = {"in_C", "in_F"};
  unsigned              n         = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/blues_forms.csv"));
  while (table_next(&table)) {
    const unsigned bar = (unsigned)table_number(&table, "bar");
    if (strcmp(table_field(&table, "form"), form) != 0) {
      continue;
    }
    for (unsigned key = 0; key < 2; ++key) {
      char text[64];
      chart_transpose(&chart.chart, tonics[key]);
      write_bar(&chart.chart, bar - 1, text);
      cr_assert_str_eq(text,
                       table_field(&table, columns[key]),
                       "bar %u: %s, not %s",
                       bar,
                       text,
                       table_field(&table, columns[key]));
    }
    ++n;
  }
  table_close(&table);
  return n;
}

ParameterizedTest(FormRow* row, chart_file, blues)
{
  load_shipped(row->chart);
  cr_assert_eq(compare_with_form(row->form), 12);
  cr_assert_eq(chart.chart.n_bars, 12);
}

/// Read the text of a shipped chart with another key in it.
static void
read_in_key(const char* const path, const char* const key)
{
  static char text[8192];
  static char other[8192];
  FILE* const file = fopen(path, "r");
  cr_assert_not_null(file);
  text[fread(text, 1, sizeof(text) - 1, file)] = '\0';
  cr_assert_eq(fclose(file), 0);

  const char* const begin = strstr(text, "\nkey ");
  cr_assert_not_null(begin);
  const char* const end = strchr(begin + 1, '\n');
  (void)snprintf(other,
                 sizeof(other),
                 "%.*s\nkey = \"%s\";%s",
                 (int)(begin - text),
                 text,
                 key,
                 end);
  cr_assert_eq(
    read_chart(&moved, other), STATUS_OK, "%s", faults.faults[0].text);
}

/// Check that two charts sound the same.
static void
check_same(const Chart* const a, const Chart* const b)
{
  cr_assert_eq(a->n_bars, b->n_bars);
  cr_assert_eq(a->n_changes, b->n_changes);
  for (unsigned i = 0; i < a->n_changes; ++i) {
    cr_assert_eq(a->changes[i].tick, b->changes[i].tick);
    cr_assert(chord_equals(&a->changes[i].chord, &b->changes[i].chord));
  }
  for (unsigned i = 0; i < a->n_bars; ++i) {
    const Tick tick = (Tick)i * meter_bar_ticks(a->meter);
    cr_assert_eq(scale_pitch_classes(chart_scale_at(a, tick)),
                 scale_pitch_classes(chart_scale_at(b, tick)));
  }
}

// Two ways lead to a key, moving the chart and writing the key into the file:
// they must sound the same
Test(chart_file, ships_charts_for_every_key)
{
  static const char* const tonics[] = {
    "C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};
  PlaceList list;
  cr_assert_eq(place_list(PLACE_CHARTS, &list), STATUS_OK);
  cr_assert_geq(list.n_entries, 9);
  for (size_t i = 0; i < list.n_entries; ++i) {
    char  path[PLACE_PATH_CAPACITY];
    Fault fault;
    load_shipped(list.entries[i].name);
    cr_assert_gt(chart.tempo_bpm, 0.0);
    cr_assert_neq(chart.feel[0], '\0');
    cr_assert_eq(place_find(PLACE_CHARTS, list.entries[i].name, path, &fault),
                 STATUS_OK);
    for (unsigned key = 0; key < 12; ++key) {
      char     text[32];
      Spelling tonic;
      cr_assert_gt(spelling_parse(&tonic, tonics[key]), 0);
      const bool is_minor = chart.chart.key.is_minor;
      const bool is_flat  = is_minor && (key == 1 || key == 8); // Too many
      (void)snprintf(text,
                     sizeof(text),
                     "%s %s",
                     is_flat ? (key == 1 ? "C#" : "G#") : tonics[key],
                     is_minor ? "minor" : "major");
      read_in_key(path, text);
      chart_transpose(&chart.chart, tonic);
      check_same(&chart.chart, &moved.chart);
    }
  }
  place_list_free(&list);
}
