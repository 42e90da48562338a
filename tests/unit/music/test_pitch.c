#include "core/music/pitch.h"
#include "core/music/spelling.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

// tests/tables/pitch.csv, see SOURCES.md there
Test(pitch, has_the_published_names)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/pitch.csv"));
  unsigned n = 0;
  while (table_next(&table)) {
    const unsigned midi = (unsigned)table_number(&table, "midi");

    const char* const columns[] = {"name_sharp", "name_flat"};
    for (unsigned i = 0; i < 2; ++i) {
      const char* const name     = table_field(&table, columns[i]);
      Spelling          spelling = {0, 0};
      char              text[PITCH_TEXT_CAPACITY];
      cr_assert_gt(spelling_parse(&spelling, name), 0);
      cr_assert_eq(spelling_pitch_class(spelling), midi % 12);
      cr_assert_str_eq(pitch_text(midi, spelling, text), name);
    }
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 128);
}

// Scientific pitch notation: the octave is that of the letter
Test(pitch, counts_the_octave_of_the_letter)
{
  char text[PITCH_TEXT_CAPACITY];
  cr_assert_str_eq(pitch_text(60, (Spelling){0, 0}, text), "C4");
  cr_assert_str_eq(pitch_text(59, (Spelling){0, -1}, text), "Cb4");
  cr_assert_str_eq(pitch_text(60, (Spelling){6, 1}, text), "B#3");
  cr_assert_str_eq(pitch_text(0, (Spelling){6, 1}, text), "B#-2");
  cr_assert_str_eq(pitch_text(127, (Spelling){5, -2}, text), "Abb9");
}

typedef struct {
  char   text[8];
  size_t n_read;
  int    letter;
  int    alter;
} SpellingRow;

ParameterizedTestParameters(spelling, reads_a_letter_and_accidentals)
{
  static SpellingRow rows[] = {
    {"C", 1, 0, 0},
    {"Bb", 2, 6, -1},
    {"F#", 2, 3, 1},
    {"Ebbb", 4, 2, -3},
    {"A##m7", 3, 5, 2},
    {"Bbbb", 4, 6, -3},
    {"Gb#", 2, 4, -1},
    {"D7", 1, 1, 0},
    {"H", 0, 0, 0},
    {"c", 0, 0, 0},
    {"", 0, 0, 0},
    {"#F", 0, 0, 0},
    {"Cbbbb", 4, 0, -3},
  };
  return cr_make_param_array(SpellingRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SpellingRow* row, spelling, reads_a_letter_and_accidentals)
{
  Spelling spelling = {5, 3};
  cr_assert_eq(spelling_parse(&spelling, row->text), row->n_read);
  cr_assert_eq(spelling.letter, row->n_read ? row->letter : 5);
  cr_assert_eq(spelling.alter, row->n_read ? row->alter : 3);
}

Test(spelling, comes_back_from_its_text)
{
  for (int letter = 0; letter < 7; ++letter) {
    for (int alter = -3; alter <= 3; ++alter) {
      const Spelling spelling = {(int8_t)letter, (int8_t)alter};
      Spelling       back     = {0, 0};
      char           text[SPELLING_TEXT_CAPACITY];
      spelling_text(spelling, text);
      cr_assert_eq(spelling_parse(&back, text), strlen(text));
      cr_assert_eq(back.letter, letter);
      cr_assert_eq(back.alter, alter);
    }
  }
}

Test(spelling, an_interval_leads_where_it_was_measured)
{
  for (int from = 0; from < 7 * 3; ++from) {
    for (int to = 0; to < 7 * 3; ++to) {
      const Spelling a    = {(int8_t)(from / 3), (int8_t)(from % 3 - 1)};
      const Spelling b    = {(int8_t)(to / 3), (int8_t)(to % 3 - 1)};
      const Spelling back = spelling_above(a, spelling_interval(a, b));
      cr_assert_eq(back.letter, b.letter);
      cr_assert_eq(back.alter, b.alter);
    }
  }
}

// Theory: a plain note sounds the same, has one accidental at most, and is a
// natural whenever the key is white
Test(spelling, plain_keeps_the_pitch)
{
  static const bool is_white[12] = {1, 0, 1, 0, 1, 1, 0, 1, 0, 1, 0, 1};
  for (int letter = 0; letter < 7; ++letter) {
    for (int alter = -3; alter <= 3; ++alter) {
      const Spelling spelling = {(int8_t)letter, (int8_t)alter};
      const Spelling plain    = spelling_plain(spelling);
      const unsigned class    = spelling_pitch_class(spelling);
      cr_assert_eq(spelling_pitch_class(plain), class);
      cr_assert_eq(abs(plain.alter), is_white[class] ? 0 : 1);
      cr_assert_geq(plain.alter * alter, 0, "changes side");
    }
  }
}

Test(pitch, classes_are_counted)
{
  cr_assert_eq(pitch_classes_count(0), 0);
  cr_assert_eq(pitch_classes_count(1U << 11), 1);
  cr_assert_eq(pitch_classes_count(0xFFF), 12);
  cr_assert_eq(pitch_classes_count(1U << 0 | 1U << 4 | 1U << 7), 3);
}
