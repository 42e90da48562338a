#include "core/settings/settings.h"
#include "core/settings/value.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static Faults faults;

static Settings*
read_text(const char* const text)
{
  Settings* settings = NULL;
  cr_assert_eq(settings_read(&settings, "t", text, strlen(text), &faults),
               STATUS_OK);
  return settings;
}

typedef struct {
  char   text[40];
  double number; ///< As an int 1..100 and as a number 0.5..100
  char   int_fault[40];
  char   number_fault[40];
} NumberRow;

ParameterizedTestParameters(settings, number)
{
  static NumberRow rows[] = {
    {"x = 4;", 4.0, "", ""},
    {"x = 4.0;", 4.0, "", ""},
    {"x = 5L;", 5.0, "", ""},
    {"x = 0x10;", 16.0, "", ""},
    {"x = 3.7;", 3.7, "x 3.7 is no whole number", ""},
    {"x = 0;", 0.0, "x 0 is outside 1..100", "x 0 is outside 0.5..100"},
    {"x = 101;", 0.0, "x 101 is outside 1..100", "x 101 is outside 0.5..100"},
    {"x = 1e400;", 0.0, "x inf is outside", "x inf is outside"},
    {"x = -1e400;", 0.0, "x -inf is outside", "x -inf is outside"},
    {"x = \"4\";", 0.0, "x is no number", "x is no number"},
    {"x = true;", 0.0, "x is no number", "x is no number"},
    {"x = [4];", 0.0, "x is no number", "x is no number"},
    {"x = { y = 4; };", 0.0, "x is no number", "x is no number"},
    {"y = 4;", -1.0, "", ""}, // Absent: the fallback, in silence
  };
  return cr_make_param_array(NumberRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
check_fault(const Settings* const settings, const char* const says)
{
  if (says[0]) {
    cr_assert_eq(settings_status(settings), STATUS_SYNTAX);
    cr_assert_eq(faults.n_faults, 1);
    cr_assert_eq(faults.faults[0].line, 1);
    cr_assert_not_null(
      strstr(faults.faults[0].text, says), "%s", faults.faults[0].text);
  } else {
    cr_assert_eq(settings_status(settings), STATUS_OK);
    cr_assert_eq(faults.n_faults, 0, "%s", faults.faults[0].text);
  }
}

ParameterizedTest(NumberRow* row, settings, number)
{
  Settings* settings = read_text(row->text);
  Setting   x        = setting_find(settings_top(settings), "x");
  const int whole    = value_int(x, 1, 100, -1);
  cr_assert_eq(whole, row->int_fault[0] ? -1 : (int)row->number);
  check_fault(settings, row->int_fault);
  settings_close(settings);

  faults              = (Faults){0};
  settings            = read_text(row->text);
  x                   = setting_find(settings_top(settings), "x");
  const double number = value_number(x, 0.5, 100.0, -1.0);
  cr_assert_float_eq(number, row->number_fault[0] ? -1.0 : row->number, 1e-12);
  check_fault(settings, row->number_fault);
  settings_close(settings);
}

typedef struct {
  char text[40];
  char expected[16]; ///< "-" if it stays as it is
  char fault[40];
} TextRow;

ParameterizedTestParameters(settings, text)
{
  static TextRow rows[] = {
    {"x = \"C7\";", "C7", ""},
    {"x = \"\";", "", ""},
    {"x = \"caf\xC3\xA9\";", "caf\xC3\xA9", ""},
    {"x = \"1234567\";", "1234567", ""},
    {"x = \"12345678\";", "-", "x is longer than 7 characters"},
    {"x = \"a\\x00b\";", "ab", ""}, // libconfig leaves the zero out
    {"x = \"a\\nb\";", "-", "x holds bytes that are no text"},
    {"x = \"\\xFF\";", "-", "x holds bytes that are no text"},
    {"x = 7;", "-", "x is no text"},
    {"x = (\"C7\");", "-", "x is no text"},
    {"y = 1;", "-", ""},
  };
  return cr_make_param_array(TextRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(TextRow* row, settings, text)
{
  char            buffer[8] = "-";
  Settings* const settings  = read_text(row->text);
  value_copy(setting_find(settings_top(settings), "x"), buffer, sizeof(buffer));
  cr_assert_str_eq(buffer, row->expected);
  check_fault(settings, row->fault);
  settings_close(settings);
}

Test(settings, names_the_nearest_known_name)
{
  static const char* const names[] = {"title", "tempo", "key"};
  Settings* const          settings =
    read_text("title = 1;\ntempoo = 2;\nzyxwvut = 3;\n");
  value_allow(settings_top(settings), names, 3);
  cr_assert_eq(faults.n_faults, 2);
  cr_assert_eq(faults.faults[0].line, 2);
  cr_assert_str_eq(faults.faults[0].text, "tempoo is not known; write tempo");
  cr_assert_eq(faults.faults[1].line, 3);
  cr_assert_not_null(strstr(faults.faults[1].text, "take it away"));
  settings_close(settings);
}

Test(settings, chooses_among_words)
{
  static const char* const words[] = {"two", "walking", "patterns"};
  Settings* const          settings =
    read_text("a = \"walking\";\nb = \"wlaking\";\nc = \"drums\";\n");
  const Setting top = settings_top(settings);
  cr_assert_eq(value_choice(setting_find(top, "a"), words, 3, 0), 1);
  cr_assert_eq(faults.n_faults, 0);
  cr_assert_eq(value_choice(setting_find(top, "b"), words, 3, 2), 2);
  cr_assert_str_eq(faults.faults[0].text,
                   "b \"wlaking\" is not known; write walking");
  cr_assert_eq(value_choice(setting_find(top, "c"), words, 3, 2), 2);
  cr_assert_str_eq(faults.faults[1].text,
                   "c \"drums\" is not known; write two, walking or patterns");
  settings_close(settings);
}

Test(settings, counts_lists)
{
  Settings* const settings = read_text("a = [1, 2];\nb = 1;\nc = (1, 2, 3);");
  const Setting   top      = settings_top(settings);
  cr_assert_eq(value_count(setting_find(top, "a"), 1, 2), 2);
  cr_assert_eq(value_count(setting_find(top, "d"), 1, 2), 0);
  cr_assert_eq(faults.n_faults, 0);
  cr_assert_eq(value_count(setting_find(top, "b"), 1, 2), 0);
  cr_assert_eq(value_count(setting_find(top, "c"), 1, 2), 0);
  cr_assert_eq(faults.n_faults, 2);
  cr_assert_eq(faults.faults[0].line, 2);
  cr_assert_eq(faults.faults[1].line, 3);
  settings_close(settings);
}

typedef struct {
  char    text[24];
  uint8_t pitch; ///< 1 if it is refused
} PitchRow;

// Scientific pitch notation, Young 1939: C4 is middle C; as a MIDI key, 60
ParameterizedTestParameters(settings, pitch)
{
  static PitchRow rows[] = {
    {"x = \"C4\";", 60},
    {"x = \"A4\";", 69},
    {"x = \"Bb3\";", 58},
    {"x = \"Cb4\";", 59},
    {"x = \"B#3\";", 60},
    {"x = \"C-1\";", 0},
    {"x = \"G9\";", 127},
    {"x = 60;", 60},
    {"x = \"G#9\";", 1},
    {"x = \"Cb-1\";", 1},
    {"x = \"H4\";", 1},
    {"x = \"C\";", 1},
    {"x = \"C44\";", 1},
    {"x = \"c4\";", 1},
    {"x = 128;", 1},
    {"x = -1;", 1},
    {"x = \"\";", 1},
    {"x = \"C-\";", 1},
  };
  return cr_make_param_array(PitchRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(PitchRow* row, settings, pitch)
{
  Settings* const settings = read_text(row->text);
  const Setting   x        = setting_find(settings_top(settings), "x");
  cr_assert_eq(value_pitch(x, 1), row->pitch);
  cr_assert_eq(faults.n_faults, row->pitch == 1 ? 1 : 0);
  settings_close(settings);
}

Test(settings, keeps_faults_in_the_order_of_lines)
{
  Settings* const settings = read_text("a = 1;\nb = 2;\nc = 3;\n");
  const Setting   top      = settings_top(settings);
  setting_fault(setting_find(top, "c"), "third");
  setting_fault(setting_find(top, "a"), "first");
  setting_fault(setting_find(top, "b"), "second");
  setting_fault(setting_find(top, "b"), "second again");
  cr_assert_eq(faults.n_faults, 4);
  cr_assert_str_eq(faults.faults[0].text, "first");
  cr_assert_str_eq(faults.faults[1].text, "second");
  cr_assert_str_eq(faults.faults[2].text, "second again");
  cr_assert_str_eq(faults.faults[3].text, "third");

  for (unsigned i = 0; i < FAULTS_CAPACITY; ++i) {
    setting_fault(top, "one more");
  }
  cr_assert_eq(faults.n_faults, FAULTS_CAPACITY);
  cr_assert_eq(faults.n_lost, 4);
  settings_close(settings);
}

Test(settings, says_what_is_wrong_with_a_path)
{
  Settings* settings = NULL;
  cr_assert_eq(settings_open(&settings, "/nowhere/at/all.cfg", &faults),
               STATUS_MISSING);
  cr_assert_str_eq(faults.faults[0].file, "/nowhere/at/all.cfg");
  cr_assert_str_eq(faults.faults[0].text, "there is no such file");
  cr_assert_eq(settings_open(&settings, "/dev/null/x.cfg", &faults),
               STATUS_MISSING);
  cr_assert_eq(settings_open(&settings, "/", &faults), STATUS_RANGE);
  cr_assert_not_null(strstr(faults.faults[2].text, "this is a folder"));
  cr_assert_eq(settings_open(&settings, "/dev/zero", &faults), STATUS_FULL);
  cr_assert_eq(settings_open(&settings, "", &faults), STATUS_MISSING);
  cr_assert_null(settings);
}

Test(settings, opens_a_file)
{
  char      path[] = "/tmp/barter-test-XXXXXX";
  const int file   = mkstemp(path);
  cr_assert_geq(file, 0);
  cr_assert_eq(write(file, "\nx = 7;\n", 8), 8);
  cr_assert_eq(close(file), 0);

  Settings* settings = NULL;
  cr_assert_eq(settings_open(&settings, path, &faults), STATUS_OK);
  const Setting x = setting_find(settings_top(settings), "x");
  cr_assert_eq(value_int(x, 0, 9, 0), 7);
  setting_fault(x, "for the place");
  cr_assert_str_eq(faults.faults[0].file, path);
  cr_assert_eq(faults.faults[0].line, 2);
  settings_close(settings);
  settings_close(NULL);
  cr_assert_eq(unlink(path), 0);
}

Test(value, what_is_printed_into_a_text_is_cut_too)
{
  char buffer[8];
  Text text = text_begin(buffer, sizeof(buffer));
  value_add(&text, "%d-%s", 12, "ab");
  cr_assert_str_eq(buffer, "12-ab");
  cr_assert_eq(text.length, 5);
  value_add(&text, "%s", "cdef");
  cr_assert_str_eq(buffer, "12-abcd");
  cr_assert_eq(text.length, 7);
  text_add(&text, "x");
  cr_assert_str_eq(buffer, "12-abcd");
}
