#include "core/music/key.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

typedef struct {
  char text[KEY_TEXT_CAPACITY];
  int  signature;
} KeyRow;

// The circle of fifths (music theory)
ParameterizedTestParameters(key, has_its_signature)
{
  static KeyRow rows[] = {
    {"Cb major", -7}, {"Gb major", -6}, {"Db major", -5}, {"Ab major", -4},
    {"Eb major", -3}, {"Bb major", -2}, {"F major", -1},  {"C major", 0},
    {"G major", 1},   {"D major", 2},   {"A major", 3},   {"E major", 4},
    {"B major", 5},   {"F# major", 6},  {"C# major", 7},  {"Ab minor", -7},
    {"Eb minor", -6}, {"Bb minor", -5}, {"F minor", -4},  {"C minor", -3},
    {"G minor", -2},  {"D minor", -1},  {"A minor", 0},   {"E minor", 1},
    {"B minor", 2},   {"F# minor", 3},  {"C# minor", 4},  {"G# minor", 5},
    {"D# minor", 6},  {"A# minor", 7},
  };
  return cr_make_param_array(KeyRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(KeyRow* row, key, has_its_signature)
{
  Key  key;
  char text[KEY_TEXT_CAPACITY];
  cr_assert_eq(key_parse(&key, row->text), STATUS_OK);
  cr_assert_eq(key_signature(key), row->signature);
  cr_assert_str_eq(key_text(key, text), row->text);
}

Test(key, is_major_unless_it_says_minor)
{
  Key  key = {{3, 1}, true};
  char text[KEY_TEXT_CAPACITY];
  cr_assert_eq(key_parse(&key, "Eb"), STATUS_OK);
  cr_assert_str_eq(key_text(key, text), "Eb major");
}

Test(key, refuses_what_is_no_key)
{
  static const char* const texts[] = {"",
                                      "Am",
                                      "c",
                                      "H major",
                                      "C  major",
                                      "C Major",
                                      "C dorian",
                                      "Cmajor",
                                      "C major ",
                                      "G# major",
                                      "Fb major",
                                      "Db minor",
                                      "E# minor"};
  for (unsigned i = 0; i < sizeof(texts) / sizeof(*texts); ++i) {
    Key key = {{3, 1}, true};
    cr_assert_eq(key_parse(&key, texts[i]), STATUS_SYNTAX, "%s", texts[i]);
    cr_assert_eq(key.tonic.letter, 3);
  }
}

typedef struct {
  char key[KEY_TEXT_CAPACITY];
  char names[48]; ///< Pitch classes 0..11
} SpellRow;

// Naturals where there are any, flats in flat keys, sharps in sharp ones, the
// key's own scale first (common practice, no source)
ParameterizedTestParameters(key, spells_every_pitch_class)
{
  static SpellRow rows[] = {
    {"C major", "C Db D Eb E F Gb G Ab A Bb B"},
    {"G major", "C C# D D# E F F# G G# A A# B"},
    {"Bb major", "C Db D Eb E F Gb G Ab A Bb B"},
    {"C minor", "C Db D Eb E F Gb G Ab A Bb B"},
    {"F# minor", "C C# D D# E F F# G G# A A# B"},
    {"Gb major", "C Db D Eb E F Gb G Ab A Bb Cb"},
    {"F# major", "C C# D D# E E# F# G G# A A# B"},
    {"C# major", "B# C# D D# E E# F# G G# A A# B"},
    {"Ab minor", "C Db D Eb Fb F Gb G Ab A Bb Cb"},
  };
  return cr_make_param_array(SpellRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SpellRow* row, key, spells_every_pitch_class)
{
  Key  key;
  char names[64] = "";
  cr_assert_eq(key_parse(&key, row->key), STATUS_OK);
  for (unsigned i = 0; i < 12; ++i) {
    char name[SPELLING_TEXT_CAPACITY];
    strcat(names, i > 0 ? " " : "");
    strcat(names, spelling_text(key_spell(key, i), name));
  }
  cr_assert_str_eq(names, row->names);
}

Test(key, spells_every_pitch_by_its_own_class)
{
  for (int i = 0; i < 7 * 3 * 2; ++i) {
    const Key key = key_readable(
      (Key){{(int8_t)(i / 2 / 3), (int8_t)(i / 2 % 3 - 1)}, i % 2 == 1});
    for (unsigned pitch = 0; pitch < 128; ++pitch) {
      const Spelling spelling = key_spell(key, pitch);
      cr_assert_eq(spelling_pitch_class(spelling), pitch % 12);
      cr_assert_leq(abs(spelling.alter), 1);
    }
  }
}

typedef struct {
  Key  key;
  char readable[KEY_TEXT_CAPACITY];
} ReadableRow;

// Of two keys that sound the same, the one with fewer accidentals (theory)
ParameterizedTestParameters(key, readable_has_seven_accidentals_at_most)
{
  static ReadableRow rows[] = {
    {{{1, 1}, false}, "Eb major"},
    {{{4, 1}, false}, "Ab major"},
    {{{3, -1}, false}, "E major"},
    {{{1, -1}, true}, "C# minor"},
    {{{4, -1}, true}, "F# minor"},
    {{{6, 1}, false}, "C major"},
    {{{5, 1}, false}, "Bb major"},
    {{{0, -1}, false}, "Cb major"},
    {{{5, -1}, true}, "Ab minor"},
    {{{6, -2}, false}, "A major"},
  };
  return cr_make_param_array(ReadableRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(ReadableRow* row, key, readable_has_seven_accidentals_at_most)
{
  char text[KEY_TEXT_CAPACITY];
  cr_assert_str_eq(key_text(key_readable(row->key), text), row->readable);
}

// C major has the white keys, G major has F# for F; A minor has its leading
// tone, too (theory)
Test(key, has_the_notes_of_its_scale)
{
  const unsigned white = 0xAB5;
  const Key      c     = {{0, 0}, false};
  const Key      g     = {{4, 0}, false};
  const Key      a     = {{5, 0}, true};
  cr_assert_eq(key_pitch_classes(c), white);
  cr_assert_eq(key_pitch_classes(g), (white & ~(1U << 5)) | 1U << 6);
  cr_assert_eq(key_pitch_classes(a), white | 1U << 8);
}
