#include "core/settings/gm.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

static Faults faults;

typedef struct {
  char    text[48];
  uint8_t program; ///< 99 if it is refused
  uint8_t drum;    ///< 99 if it is refused
} GmRow;

// General MIDI System, Level 1: a few of each table, its first and last
ParameterizedTestParameters(gm, names)
{
  static GmRow rows[] = {
    {"x = \"acoustic grand piano\";", 0, 99},
    {"x = \"electric piano 1\";", 4, 99},
    {"x = \"vibraphone\";", 11, 99},
    {"x = \"electric guitar (jazz)\";", 26, 99},
    {"x = \"acoustic bass\";", 32, 99},
    {"x = \"tenor sax\";", 66, 99},
    {"x = \"gunshot\";", 127, 99},
    {"x = \"acoustic bass drum\";", 99, 35},
    {"x = \"side stick\";", 99, 37},
    {"x = \"acoustic snare\";", 99, 38},
    {"x = \"closed hi-hat\";", 99, 42},
    {"x = \"pedal hi-hat\";", 99, 44},
    {"x = \"ride cymbal 1\";", 99, 51},
    {"x = \"open triangle\";", 99, 81},
    {"x = 1;", 0, 99},
    {"x = 128;", 127, 99},
    {"x = 35;", 34, 35},
    {"x = 81;", 80, 81},
    {"x = 34;", 33, 99},
    {"x = 82;", 81, 99},
    {"x = 0;", 99, 99},
    {"x = 129;", 99, 99},
    {"x = true;", 99, 99},
  };
  return cr_make_param_array(GmRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(GmRow* row, gm, names)
{
  Settings* settings = NULL;
  cr_assert_eq(
    settings_read(&settings, "t", row->text, strlen(row->text), &faults),
    STATUS_OK);
  const Setting x = setting_find(settings_top(settings), "x");
  cr_assert_eq(gm_program(x, 99), row->program);
  cr_assert_eq(gm_drum(x, 99), row->drum);
  cr_assert_eq(faults.n_faults,
               (row->program == 99 ? 1U : 0U) + (row->drum == 99 ? 1U : 0U));
  settings_close(settings);
}

Test(gm, names_no_two_alike)
{
  for (unsigned i = 0; i < GM_N_PROGRAMS; ++i) {
    for (unsigned k = 0; k < i; ++k) {
      cr_assert_str_neq(gm_program_name(i), gm_program_name(k));
    }
  }
}
