#include "profiles/ladder/ladder.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

/// What rung_parse() makes of a text, from notes 2, rhythm 2, shape 2,
/// ornament 2. The texts and limits are those of ladder.h.
typedef struct {
  char    text[48];
  Status  status;
  uint8_t level[N_DIMENSIONS];
} ParseRow;

ParameterizedTestParameters(rung, parse)
{
  static ParseRow rows[] = {
    {"notes=4,rhythm=3,shape=2,ornament=1", STATUS_OK, {4, 3, 2, 1}},
    {"ornament=4", STATUS_OK, {2, 2, 2, 4}},
    {"shape=6,notes=8", STATUS_OK, {8, 2, 6, 2}},
    {"3", STATUS_OK, {3, 3, 3, 3}},
    {"5", STATUS_OK, {5, 5, 5, 4}},
    {"8", STATUS_OK, {8, 7, 6, 4}},
    {"0", STATUS_RANGE, {2, 2, 2, 2}},
    {"9", STATUS_RANGE, {2, 2, 2, 2}},
    {"notes=9", STATUS_RANGE, {2, 2, 2, 2}},
    {"notes=0", STATUS_RANGE, {2, 2, 2, 2}},
    {"rhythm=8", STATUS_RANGE, {2, 2, 2, 2}},
    {"notes=4,ornament=5", STATUS_RANGE, {2, 2, 2, 2}},
    {"", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes=", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes=3,", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes=3;rhythm=2", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes=-3", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes=100000000001", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"100", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"notes=100", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"tempo=3", STATUS_SYNTAX, {2, 2, 2, 2}},
    {"3,4", STATUS_SYNTAX, {2, 2, 2, 2}},
  };
  return cr_make_param_array(ParseRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(ParseRow* row, rung, parse)
{
  Rung rung = {{2, 2, 2, 2}};
  cr_assert_eq(rung_parse(&rung, row->text), row->status, "%s", row->text);
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    cr_assert_eq(rung.level[d], row->level[d], "%s", row->text);
  }
}

Test(rung, text_reads_back)
{
  for (unsigned n = 1; n <= N_NOTES_RUNGS; ++n) {
    for (unsigned r = 1; r <= N_RHYTHM_RUNGS; ++r) {
      const Rung rung = {{(uint8_t)n, (uint8_t)r, 6, 4}};
      Rung       read = {{0}};
      char       buffer[RUNG_TEXT_CAPACITY];
      cr_assert_eq(rung_parse(&read, rung_text(rung, buffer)), STATUS_OK);
      cr_assert_eq(memcmp(&read, &rung, sizeof(rung)), 0, "%s", buffer);
    }
  }
}

Test(rung, text_tells_only_what_is_told)
{
  const Rung rung = {{0, 2, 0, 1}};
  char       buffer[RUNG_TEXT_CAPACITY];
  cr_assert_str_eq(rung_text(rung, buffer), "rhythm=2,ornament=1");
  cr_assert_str_eq(rung_words(rung, buffer), "rhythm 2, ornament 1");
}

Test(rung, text_fits_whatever_stands_in_it)
{
  const Rung rung = {{255, 255, 255, 255}};
  char       buffer[RUNG_TEXT_CAPACITY];
  cr_assert_str_eq(rung_text(rung, buffer),
                   "notes=255,rhythm=255,shape=255,ornament=255");
  cr_assert_str_eq(rung_words(rung, buffer),
                   "notes 255, rhythm 255, shape 255, ornament 255");
}

Test(dimension, names_and_rungs)
{
  cr_assert_str_eq(dimension_name(DIMENSION_NOTES), "notes");
  cr_assert_str_eq(dimension_name(DIMENSION_ORNAMENT), "ornament");
  cr_assert_eq(dimension_rungs(DIMENSION_NOTES), N_NOTES_RUNGS);
  cr_assert_eq(dimension_rungs(DIMENSION_RHYTHM), N_RHYTHM_RUNGS);
  cr_assert_eq(dimension_rungs(DIMENSION_SHAPE), N_SHAPE_RUNGS);
  cr_assert_eq(dimension_rungs(DIMENSION_ORNAMENT), N_ORNAMENT_RUNGS);
}

Test(move, names_are_different)
{
  for (unsigned m = 0; m < N_MOVES; ++m) {
    for (unsigned other = 0; other < m; ++other) {
      cr_assert_str_neq(move_name((Move)m), move_name((Move)other));
    }
  }
}
