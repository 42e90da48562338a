#include "profiles/sheet/sheet.h"

#include "profiles/files/ladder_file.h"
#include "profiles/sheet/letters.h"
#include "support/table.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

/// A sheet of a chart and what it points to.
typedef struct {
  Chart  chart;
  Ladder ladder;
  Sheet  sheet;
} Made;

static void
begin(Made* const made, const char* const meter_words, const Key key)
{
  Faults faults = {.n_faults = 0};
  Meter  meter  = {4, 4};
  cr_assert_eq(ladder_file_load(&made->ladder,
                                BARTER_SOURCE_DIR "/config/ladder.cfg",
                                &faults),
               STATUS_OK);
  cr_assert_eq(meter_parse(&meter, meter_words), STATUS_OK);
  chart_begin(&made->chart, "Test", meter, key);
}

static void
make(Made* const made)
{
  const SheetRequest request = {
    .chart         = &made->chart,
    .ladder        = &made->ladder,
    .rung          = {{3, 2, 1, 1}},
    .task          = DIMENSION_NOTES,
    .tempo_bpm     = 100.0,
    .swing_ratio   = 1.6,
    .bars_per_turn = 2,
  };
  sheet_make(&made->sheet, &request);
}

static void
add_bar(Made* const made, const char* const bar)
{
  char fault[CHART_FAULT_CAPACITY];
  cr_assert_eq(
    chart_add_bar(&made->chart, bar, fault), STATUS_OK, "%s: %s", bar, fault);
}

/// Write the names of the keys that are chord tones as named, or not.
static void
names_of(const SheetKeyboard* const keyboard,
         const bool                 of_scale,
         char                       names[96])
{
  names[0] = '\0';
  for (unsigned i = 0; i < keyboard->n_keys; ++i) {
    char name[SPELLING_TEXT_CAPACITY];
    if ((keyboard->keys[i].role == SHEET_SCALE_TONE) == of_scale) {
      (void)strcat(strcat(names, names[0] ? " " : ""),
                   spelling_text(keyboard->keys[i].spelling, name));
    }
  }
}

// tests/tables/chords.csv, see SOURCES.md there: each chord in a bar by itself.
// Every tone is on the keyboard by its name; of chords without colour the
// weighty keys are those and no others, from the root to its octave.
Test(sheet, keyboards_have_the_published_tones)
{
  static Made made;
  Table       table;
  unsigned    n       = 0;
  unsigned    n_whole = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/chords.csv"));
  begin(&made, "4/4", (Key){{0, 0}, false});
  while (table_next(&table)) {
    char              symbol[32];
    char              want[96];
    char              root[SPELLING_TEXT_CAPACITY];
    const char* const tones = table_field(&table, "spelling");
    (void)snprintf(symbol,
                   sizeof(symbol),
                   "%s%s",
                   table_field(&table, "root"),
                   table_field(&table, "quality"));
    chart_begin(&made.chart, "Test", (Meter){4, 4}, (Key){{0, 0}, false});
    add_bar(&made, symbol);
    make(&made);
    (void)spelling_text(made.chart.changes[0].chord.root, root);
    if (strcmp(root, table_field(&table, "root")) != 0) {
      continue; // It is read under its other name
    }
    const SheetKeyboard keyboard = sheet_keyboard(&made.sheet, 0);
    char                all[200] = " ";
    for (unsigned i = 0; i < keyboard.n_keys; ++i) {
      char name[SPELLING_TEXT_CAPACITY];
      (void)strcat(strcat(all, spelling_text(keyboard.keys[i].spelling, name)),
                   " ");
    }
    (void)snprintf(want, sizeof(want), "%s", tones);
    for (char* tone = strtok(want, " "); tone; tone = strtok(NULL, " ")) {
      char wrapped[16];
      (void)snprintf(wrapped, sizeof(wrapped), " %s ", tone);
      cr_assert_not_null(
        strstr(all, wrapped), "%s: no %s in%s", symbol, tone, all);
    }
    const Chord* const chord = &made.chart.changes[0].chord;
    if (chord->core_mask == chord->all_mask) {
      char names[96];
      (void)snprintf(want, sizeof(want), "%s %s", tones, root);
      names_of(&keyboard, false, names);
      cr_assert_str_eq(names, want, "%s: %s", symbol, names);
      ++n_whole;
    }
    ++n;
  }
  table_close(&table);
  cr_assert_gt(n, 380);
  cr_assert_gt(n_whole, 200);
}

/// Find the kind that a table calls `minor_blues`; false if it has another name
/// there.
static bool
find_kind(const char* const name, ScaleKind* const kind)
{
  char words[40];
  (void)snprintf(words, sizeof(words), "%s", name);
  for (char* at = words; *at; ++at) {
    *at = *at == '_' ? ' ' : *at;
  }
  return scale_kind_named(kind, words) == STATUS_OK;
}

// tests/tables/scales.csv, see SOURCES.md there; the minor blues on Gb and Cb
// is written otherwise (see the tests of scales)
Test(sheet, runs_have_the_published_notes)
{
  Table    table;
  unsigned n = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/scales.csv"));
  while (table_next(&table)) {
    Scale       scale = {{0, 0}, 0};
    char        names[96];
    const char* root = table_field(&table, "root");
    (void)spelling_parse(&scale.tonic, root);
    if (!find_kind(table_field(&table, "scale"), &scale.kind) ||
        strcmp(table_field(&table, "scale"), "minor_blues") == 0 ||
        strcmp(table_field(&table, "scale"), "altered") == 0 ||
        strcmp(table_field(&table, "scale"), "chromatic") == 0) {
      continue; // These have two common spellings each
    }
    const SheetRun run = sheet_run(scale);
    names[0]           = '\0';
    for (unsigned i = 0; i + 1 < run.n; ++i) {
      char name[SPELLING_TEXT_CAPACITY];
      (void)strcat(strcat(names, i ? " " : ""),
                   spelling_text(run.spellings[i], name));
      cr_assert_lt(run.pitches[i], run.pitches[i + 1]);
      cr_assert_eq(run.pitches[i] % 12, spelling_pitch_class(run.spellings[i]));
    }
    cr_assert_eq(run.pitches[run.n - 1], run.pitches[0] + 12);
    cr_assert(run.pitches[0] >= 60 && run.pitches[0] < 72);
    char other[96];
    (void)snprintf(other, sizeof(other), "%s", table_field(&table, "spelling"));
    if (strstr(table_field(&table, "scale"), "dim") == NULL &&
        strcmp(table_field(&table, "scale"), "whole_tone") != 0) {
      cr_assert_str_eq(names, other, "line %u: %s", table.line, names);
    }
    ++n;
  }
  table_close(&table);
  cr_assert_gt(n, 200);
}

// tests/tables/fingering_right_hand.csv, common practice: one of the table's
// for each scale that is there
Test(sheet, c_minor_blues_is_fingered_as_taught)
{
  static const uint8_t taught[] = {1, 2, 3, 4, 1, 2, 3};
  Scale                scale    = {{0, 0}, 0};
  cr_assert_eq(scale_kind_named(&scale.kind, "minor blues"), STATUS_OK);
  const SheetRun run = sheet_run(scale);
  cr_assert_eq(run.n, 7);
  cr_assert_arr_eq(run.right, taught, sizeof(taught));
}

// C7 and the minor blues on C: C Eb E F Gb G Bb C (musicianship of the trade:
// root, third, fifth and seventh bear weight)
Test(sheet, roles_by_hand)
{
  static Made made;
  char        names[96];
  begin(&made, "4/4", (Key){{0, 0}, false});
  add_bar(&made, "C7");
  add_bar(&made, "F7");
  cr_assert_eq(chart_set_scale(&made.chart, CHART_BAR_CAPACITY, "minor blues"),
               STATUS_OK);
  make(&made);
  cr_assert_eq(made.sheet.n_chords, 2);
  cr_assert_eq(made.sheet.n_scales, 1);
  const SheetKeyboard on_c = sheet_keyboard(&made.sheet, 0);
  names_of(&on_c, false, names);
  cr_assert_str_eq(names, "C E G Bb C");
  names_of(&on_c, true, names);
  cr_assert_str_eq(names, "Eb F Gb");
  cr_assert_eq(on_c.keys[0].role, SHEET_ROOT);
  cr_assert_eq(on_c.keys[on_c.n_keys - 1].role, SHEET_ROOT);
  cr_assert_eq(on_c.lowest, 60);
  const SheetKeyboard on_f = sheet_keyboard(&made.sheet, 1);
  names_of(&on_f, false, names);
  cr_assert_str_eq(names, "F A C Eb F");
  cr_assert_eq(on_f.lowest, 65);
}

Test(sheet, each_pair_of_chord_and_scale_stands_once)
{
  static Made made;
  begin(&made, "3/4", (Key){{5, 0}, true});
  add_bar(&made, "Am7 D7");
  add_bar(&made, "%");
  add_bar(&made, "N.C.");
  add_bar(&made, "Am7");
  add_bar(&made, "Am7/G");
  cr_assert_eq(chart_set_scale(&made.chart, CHART_BAR_CAPACITY, "dorian"),
               STATUS_OK);
  cr_assert_eq(chart_set_scale(&made.chart, 3, "minor blues"), STATUS_OK);
  make(&made);
  // Am7 and D7 in dorian, Am7 in blues, Am7/G
  cr_assert_eq(made.sheet.n_chords, 4);
  cr_assert_eq(made.sheet.n_scales, 2);
  cr_assert(!sheet_repeats_bar(&made.chart, 0));
  cr_assert(sheet_repeats_bar(&made.chart, 1));
  cr_assert(!sheet_repeats_bar(&made.chart, 2));
  cr_assert(!sheet_repeats_bar(&made.chart, 3));
  cr_assert(!sheet_repeats_bar(&made.chart, 4));
}

Test(sheet, turns_are_told_where_they_stay)
{
  static Made made;
  begin(&made, "4/4", (Key){{0, 0}, false});
  for (unsigned bar = 1; bar <= 12; ++bar) {
    add_bar(&made, "C7");
    make(&made);
    cr_assert_eq(sheet_has_turns(&made.sheet), bar % 4 == 0, "%u", bar);
  }
}

typedef struct {
  char symbol[16];
  char printed[24];
} LettersRow;

Test(sheet, names_have_sharps_and_flats)
{
  static const LettersRow rows[] = {
    {"Bbmaj7", "B\u266dmaj7"},
    {"F#m7b5", "F\u266fm7\u266d5"},
    {"G7b9#11", "G7\u266d9\u266f11"},
    {"Eb/Bb", "E\u266d/B\u266d"},
    {"Cdim7", "Cdim7"},
    {"Gsus4", "Gsus4"},
    {"N.C.", "N.C."},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    Chord chord;
    char  text[LETTERS_CAPACITY];
    cr_assert_eq(chord_parse(&chord, rows[i].symbol, 16), STATUS_OK);
    cr_assert_str_eq(letters_chord(&chord, text), rows[i].printed);
  }
  char  text[LETTERS_CAPACITY];
  Scale scale = {{6, -1}, 0};
  cr_assert_eq(scale_kind_named(&scale.kind, "minor blues"), STATUS_OK);
  cr_assert_str_eq(letters_scale(scale, text), "B\u266d minor blues");
  cr_assert_str_eq(letters_note((Spelling){3, 2}, text), "Fx");
  cr_assert_str_eq(letters_note((Spelling){6, -2}, text), "B\u266d\u266d");
}
