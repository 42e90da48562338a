#include "core/music/numeral.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

/// Read one numeral after another from a list cut by commas, and write them as
/// symbols cut by blanks.
static const char*
numerals_as_symbols(const char* list, const Key key, char symbols[96])
{
  symbols[0] = '\0';
  while (*list) {
    const size_t length = strcspn(list, ",");
    Chord        chord  = chord_silence();
    char         text[CHORD_TEXT_CAPACITY];
    cr_assert_eq(
      numeral_parse(&chord, key, list, length), STATUS_OK, "%s", list);
    strcat(symbols, symbols[0] ? " " : "");
    strcat(symbols, chord_text(&chord, text));
    list += length + (list[length] ? 1 : 0);
  }
  return symbols;
}

// tests/tables/blues_forms.csv, see SOURCES.md there
Test(numeral, gives_the_chords_of_the_blues)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/blues_forms.csv"));
  unsigned n = 0;
  while (table_next(&table)) {
    const bool is_minor = strncmp(table_field(&table, "form"), "minor", 5) == 0;
    const Key  c        = {{0, 0}, is_minor};
    const Key  f        = {{3, 0}, is_minor};
    const char* const roman = table_field(&table, "roman");
    char              symbols[96];
    cr_assert_str_eq(numerals_as_symbols(roman, c, symbols),
                     table_field(&table, "in_C"));
    cr_assert_str_eq(numerals_as_symbols(roman, f, symbols),
                     table_field(&table, "in_F"));
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 96);
}

typedef struct {
  char numeral[16];
  char key[KEY_TEXT_CAPACITY];
  char symbol[16];
} NumeralRow;

// Degrees of the major scale, case for the third (common practice, no source)
ParameterizedTestParameters(numeral, counts_from_the_key)
{
  static NumeralRow rows[] = {
    {"I", "Eb major", "Eb"},          {"i", "Eb minor", "Ebm"},
    {"ii7", "Eb major", "Fm7"},       {"III7", "D major", "F#7"},
    {"iii7", "D major", "F#m7"},      {"IVmaj7", "F major", "Bbmaj7"},
    {"V7b9", "A minor", "E7b9"},      {"v7", "C major", "Gm7"},
    {"vi", "A major", "F#m"},         {"VI7", "A major", "F#7"},
    {"bVI7", "A minor", "F7"},        {"bVII7", "E major", "D7"},
    {"viidim7", "G major", "F#dim7"}, {"iim7b5", "G minor", "Am7b5"},
    {"iidim", "G minor", "Adim"},     {"#ivdim7", "Bb major", "Edim7"},
    {"imaj7", "C minor", "Cmmaj7"},   {"iMaj7", "C minor", "CmMaj7"},
    {"i6", "C minor", "Cm6"},         {"i69", "C minor", "Cm69"},
    {"iv6/9", "C minor", "Fm6/9"},    {"I6/9", "C major", "C6/9"},
    {"IIm7", "C major", "Dm7"},       {"V7sus4", "Db major", "Ab7sus4"},
    {"V7alt", "Gb major", "Db7alt"},  {"bII7", "Db major", "Ebb7"},
    {"Vaug7", "C major", "Gaug7"},    {"imin7", "C minor", "Cmin7"},
  };
  return cr_make_param_array(NumeralRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(NumeralRow* row, numeral, counts_from_the_key)
{
  Key   key   = {{0, 0}, false};
  Chord chord = chord_silence();
  char  text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(key_parse(&key, row->key), STATUS_OK);
  cr_assert_eq(numeral_parse(&chord, key, row->numeral, 16), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), row->symbol, "%s", row->numeral);
}

Test(numeral, refuses_the_rest)
{
  static const char* const texts[] = {"",
                                      "V7/V",
                                      "VIII",
                                      "iV",
                                      "Iv7",
                                      "bbVII",
                                      "##iv",
                                      "b",
                                      "X7",
                                      "C7",
                                      "V7/G",
                                      "IIII7",
                                      "vialt",
                                      "ii7x",
                                      "%",
                                      "/",
                                      "N.C.",
                                      "VV7"};
  const Key                key     = {{0, 0}, false};
  for (unsigned i = 0; i < sizeof(texts) / sizeof(*texts); ++i) {
    Chord chord = {.n_tones = 99};
    cr_assert_eq(numeral_parse(&chord, key, texts[i], strlen(texts[i])),
                 STATUS_SYNTAX,
                 "%s",
                 texts[i]);
    cr_assert_eq(chord.n_tones, 99, "%s", texts[i]);
  }
}

Test(numeral, ends_at_a_blank_or_at_its_length)
{
  const Key key   = {{0, 0}, false};
  Chord     chord = chord_silence();
  char      text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(numeral_parse(&chord, key, "V7 junk", 7), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), "G7");
  cr_assert_eq(numeral_parse(&chord, key, "iim7b5", 4), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), "Dm7");
}
