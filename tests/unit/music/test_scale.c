#include "core/music/scale.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

/// Find the kind that a table calls `natural_minor` or `melodic_minor_asc`.
static ScaleKind
kind_in_table(const char* const name)
{
  char      words[SCALE_TEXT_CAPACITY] = "";
  ScaleKind kind                       = 0;
  memcpy(words, name, strlen(name));
  for (char* at = words; *at; ++at) {
    *at = *at == '_' ? ' ' : *at;
  }
  char* const rising = strstr(words, " asc");
  if (rising) {
    *rising = '\0';
  }
  cr_assert_eq(scale_kind_named(&kind, words), STATUS_OK, "%s", words);
  return kind;
}

static Scale
scale_in_table(const Table* const table)
{
  Scale scale = {{0, 0}, 0};
  cr_assert_gt(spelling_parse(&scale.tonic, table_field(table, "root")), 0);
  scale.kind = kind_in_table(table_field(table, "scale"));
  return scale;
}

/// Write the scale as scale_spell() has it, from the tonic up.
static const char*
scale_names(const Scale scale, char names[96])
{
  names[0] = '\0';
  for (unsigned i = 0; i < 12; ++i) {
    Spelling       spelling;
    char           name[SPELLING_TEXT_CAPACITY];
    const unsigned pitch = 60 + spelling_pitch_class(scale.tonic) + i;
    if (scale_spell(scale, pitch, &spelling)) {
      cr_assert_eq(spelling_pitch_class(spelling), pitch % 12);
      strcat(names, i > 0 ? " " : "");
      strcat(names, spelling_text(spelling, name));
    }
  }
  return names;
}

/// Write the other spelling that scales_alt_spelling.csv has for a scale; empty
/// if it has none.
static void
other_spelling(const char* const root, const char* const scale, char names[96])
{
  static Table table;
  names[0] = '\0';
  cr_assert(table_open(&table, BARTER_TABLES "/scales_alt_spelling.csv"));
  while (table_next(&table)) {
    if (strcmp(table_field(&table, "root"), root) == 0 &&
        strcmp(table_field(&table, "scale"), scale) == 0) {
      strcpy(names, table_field(&table, "spelling"));
    }
  }
  table_close(&table);
}

static uint16_t
mask_of_numbers(const char* text)
{
  unsigned mask = 0;
  while (*text) {
    char* end = NULL;
    mask |= 1U << strtoul(text, &end, 10);
    text = *end ? end + 1 : end;
  }
  return (uint16_t)mask;
}

// tests/tables/scales.csv and scales_alt_spelling.csv, see SOURCES.md there.
// The minor blues may have a raised fourth for its flat fifth; on Gb and Cb,
// which the second table lacks, see the minor blues below.
Test(scale, has_the_published_notes)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/scales.csv"));
  unsigned n       = 0;
  unsigned n_below = 0;
  while (table_next(&table)) {
    char              names[96];
    char              other[96];
    const Scale       scale    = scale_in_table(&table);
    const char* const root     = table_field(&table, "root");
    const char* const name     = table_field(&table, "scale");
    const char* const expected = table_field(&table, "spelling");
    const bool        is_blues = strcmp(name, "minor_blues") == 0;
    other_spelling(root, is_blues ? "minor_blues_sharp4" : "", other);
    scale_names(scale, names);
    if (is_blues && (strcmp(root, "Gb") == 0 || strcmp(root, "Cb") == 0)) {
      ++n_below;
    } else {
      cr_assert(strcmp(names, expected) == 0 || strcmp(names, other) == 0,
                "line %u: %s for %s",
                table.line,
                names,
                expected);
    }
    cr_assert_eq(scale_pitch_classes(scale),
                 mask_of_numbers(table_field(&table, "pitch_classes")),
                 "line %u",
                 table.line);
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 378);
  cr_assert_eq(n_below, 2);
}

typedef struct {
  char tonic[SPELLING_TEXT_CAPACITY];
  char names[32];
} BluesRow;

// In flat keys players write the raised fourth (common practice, no source)
ParameterizedTestParameters(scale, minor_blues_has_no_double_flat)
{
  static BluesRow rows[] = {
    {"C", "C Eb F Gb G Bb"},
    {"G", "G Bb C Db D F"},
    {"Eb", "Eb Gb Ab A Bb Db"},
    {"Ab", "Ab Cb Db D Eb Gb"},
    {"Bb", "Bb Db Eb Fb F Ab"},
    {"C#", "C# E F# G G# B"},
    {"F#", "F# A B C C# E"},
    {"Gb", "Gb Bbb Cb C Db Fb"},
    {"Cb", "Cb Ebb Fb F Gb Bbb"},
  };
  return cr_make_param_array(BluesRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(BluesRow* row, scale, minor_blues_has_no_double_flat)
{
  char  names[96];
  Scale scale = {{0, 0}, kind_in_table("minor_blues")};
  cr_assert_gt(spelling_parse(&scale.tonic, row->tonic), 0);
  cr_assert_str_eq(scale_names(scale, names), row->names);
}

Test(scale, kinds_have_names_of_their_own)
{
  cr_assert_geq(scale_kinds(), 21);
  cr_assert_str_eq(scale_kind_name(0), "major");
  for (unsigned i = 0; i < scale_kinds(); ++i) {
    ScaleKind kind = 99;
    cr_assert_eq(scale_kind_named(&kind, scale_kind_name(i)), STATUS_OK);
    cr_assert_eq(kind, i);
  }
  ScaleKind kind = 99;
  cr_assert_eq(scale_kind_named(&kind, "minor blue"), STATUS_MISSING);
  cr_assert_eq(scale_kind_named(&kind, "Major"), STATUS_MISSING);
  cr_assert_eq(scale_kind_named(&kind, ""), STATUS_MISSING);
  cr_assert_eq(kind, 99);
}

Test(scale, degrees_rise_from_the_tonic)
{
  for (unsigned kind = 0; kind < scale_kinds(); ++kind) {
    unsigned              n       = 0;
    const Interval* const degrees = scale_degrees(kind, &n);
    cr_assert_geq(n, 5);
    cr_assert_eq(degrees[0].number, 1);
    cr_assert_eq(degrees[0].semitones, 0);
    for (unsigned i = 1; i < n; ++i) {
      cr_assert_gt(degrees[i].semitones, degrees[i - 1].semitones);
      cr_assert_lt(degrees[i].semitones, 12);
    }
  }
}

typedef struct {
  char symbol[16];
  char scale[SCALE_TEXT_CAPACITY];
} SuggestionRow;

// Which scale goes with which chord (common practice, no source)
ParameterizedTestParameters(scale, fits_the_chord)
{
  static SuggestionRow rows[] = {
    {"C", "C major"},
    {"Ebmaj7", "Eb major"},
    {"F69", "F major"},
    {"Fmaj9#11", "F lydian"},
    {"D7", "D mixolydian"},
    {"D13", "D mixolydian"},
    {"G7sus4", "G mixolydian"},
    {"G7sus4b9", "G phrygian"},
    {"G7#11", "G lydian dominant"},
    {"G7b9", "G half whole dim"},
    {"G13b9", "G half whole dim"},
    {"G7#9", "G half whole dim"},
    {"G7alt", "G altered"},
    {"Gaug7#9", "G altered"},
    {"G7b9b13", "G altered"},
    {"Gaug7", "G whole tone"},
    {"Gaug", "G whole tone"},
    {"Dm7", "D dorian"},
    {"Dm", "D dorian"},
    {"Dm11", "D dorian"},
    {"Cm6", "C melodic minor"},
    {"CmMaj7", "C melodic minor"},
    {"Bm7b5", "B locrian"},
    {"Bdim7", "B whole half dim"},
    {"Bdim", "B whole half dim"},
    {"C7/Bb", "C mixolydian"},
    {"Dm7b13", "D natural minor"},
    {"Dm7b9", "D phrygian"},
    {"Cmaj7#5", "C lydian"},
    {"C7b5", "C whole tone"},
    {"Cmaj7sus4", "C major"},
    {"Csus2", "C major"},
    {"Csus4", "C mixolydian"},
    {"CdimMaj7", "C whole half dim"},
    {"C9(b13)", "C whole tone"},
  };
  return cr_make_param_array(SuggestionRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SuggestionRow* row, scale, fits_the_chord)
{
  Chord chord = chord_silence();
  char  text[SCALE_TEXT_CAPACITY];
  cr_assert_eq(chord_parse(&chord, row->symbol, strlen(row->symbol)),
               STATUS_OK);
  cr_assert_str_eq(scale_text(scale_for_chord(&chord), text), row->scale);
}

// Every tone of each of the 26 kinds lies in the scale it suggests
Test(scale, holds_the_chords_tones)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/chords.csv"));
  while (table_next(&table)) {
    Spelling          root   = {0, 0};
    Chord             chord  = chord_silence();
    const char* const suffix = table_field(&table, "quality");
    cr_assert_gt(spelling_parse(&root, table_field(&table, "root")), 0);
    cr_assert_eq(chord_build(&chord, root, suffix, strlen(suffix)), STATUS_OK);
    const uint16_t classes = scale_pitch_classes(scale_for_chord(&chord));
    for (unsigned i = 0; i < chord.n_tones; ++i) {
      const unsigned class =
        spelling_pitch_class(spelling_above(root, chord.tones[i]));
      cr_assert(classes >> class & 1U, "line %u", table.line);
    }
  }
  table_close(&table);
}

Test(scale, readable_has_no_triple_accidental)
{
  for (int i = 0; i < 7 * 5; ++i) {
    for (unsigned kind = 0; kind < scale_kinds(); ++kind) {
      const Scale scale = {{(int8_t)(i / 5), (int8_t)(i % 5 - 2)}, kind};
      const Scale plain = scale_readable(scale);
      cr_assert_eq(scale_pitch_classes(plain), scale_pitch_classes(scale));
      cr_assert_leq(abs(plain.tonic.alter), 1);
      for (unsigned pitch = 0; pitch < 12; ++pitch) {
        Spelling spelling = {0, 0};
        (void)scale_spell(plain, pitch, &spelling);
        cr_assert_leq(abs(spelling.alter), 2);
      }
    }
  }
}

/// C# major sounds like Db major and is written otherwise.
Test(scale, one_scale_has_one_spelling)
{
  const Scale sharp = {{0, 1}, 0};
  cr_assert(scale_equals(sharp, (Scale){{0, 1}, 0}));
  cr_assert_not(scale_equals(sharp, (Scale){{0, 1}, 1}));
  cr_assert_not(scale_equals(sharp, (Scale){{0, 0}, 0}));
  cr_assert_not(scale_equals(sharp, (Scale){{1, -1}, 0}));
}
