#include "core/settings/settings.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

static Faults faults;

static Status
read_text(Settings** const settings, const char* const text)
{
  return settings_read(settings, "test.cfg", text, strlen(text), &faults);
}

typedef struct {
  char     text[64];
  unsigned line;
  char     says[48];
} SlipRow;

// What libconfig 1.5 takes in silence, reports elsewhere or calls a syntax
// error, tried out with the library, and slips of the pen around it
ParameterizedTestParameters(scan, slip)
{
  static SlipRow rows[] = {
    {"x = 2147483648;", 1, "2147483648 is too large"}, // Becomes -2147483648
    {"x = 4294967416;", 1, "4294967416 is too large"}, // Becomes 120
    {"x = -4294967296;", 1, "-4294967296 is too large"},
    {"x = 99999999999999999999;", 1, "is too large"}, // Becomes -1
    {"x = 0x100000000;", 1, "0x100000000 is too large"},
    {"x = 5000000000L;", 1, "is too large"},
    {"\xEF\xBB\xBFx = 1;\ny = 2;\n", 1, "byte order mark"},
    {"x = 1;\ny = on;", 2, "on is no value"},
    {"key = C;", 1, "put words in quotes, \"C\""},
    {"x = 1;\n\nx = 2;", 3, "a second time"},
    {"t = \"Blues;\nkey = \"C\";", 1, "does not end"},
    {"t = \"Blues", 1, "does not end"},
    {"t = \"Blues\\\"", 1, "does not end"},
    {"a = {\n b = 1;\n\n\n", 1, "the { here is never closed"},
    {"a = (\n [1,\n 2", 2, "the [ here is never closed"},
    {"a = (\n1,\n2;\n", 3, "a ; stands within the ( of line 1"},
    {"bars = [ \"I\",\nkey = \"C\";", 2, "key stands within the [ of line 1"},
    {"a = (\n{ b = 1;\n{ c = 1; });", 3, "close the { of line 2"},
    {"a = [1 2];", 1, "a comma is missing"},
    {"a = [\"I\"\n\"IV\"];", 2, "a comma is missing"}, // Becomes "IIV"
    {"a = { b = 1; ];", 1, "] cannot close the { of line 1"},
    {"a = 1; }", 1, "} closes nothing"},
    {"tempo 120;", 1, "tempo has no ="},
    {"tempo\n\n= 120;\nkey", 4, "key has no ="},
    {"\ntempo = ;", 2, "tempo has no value"},
    {"tempo =\n\n\n", 1, "tempo has no value"},
    {"a = { tempo = }", 1, "tempo has no value"},
    {"\"title\" = 1;", 1, "a value stands here without a name"},
    {"x = 120 130;", 1, "a value stands here without a name"},
    {"= 1;", 1, "no name before it"},
    {"a = (1 = 2);", 1, "no name before it"},
    {"meter = 4/4;", 1, "/ stands outside quotes"},
    {"t = \xE2\x80\x9C"
     "Blues\xE2\x80\x9D;",
     1,
     "straight quotes"},
    {"na\xC3\xAFve = 1;", 1, "stands outside quotes"},
    {"x = 1;\n@include \"y.cfg\"\n", 2, "@include is not read"},
    {"x = 1;\n/* to be\ngone on with", 2, "a comment begins here"},
    {"x = 1;\n# \xFF\n", 2, "this is not UTF-8"},
    {"t = \"caf\xE9\";", 1, "this is not UTF-8"},
    {"a = 1;;", 1, "one ; too many"},
    {"a = [1,,2];", 1, "one , too many"},
    {"a = [,1];", 1, "one , too many"},
    {"a = 1;\v", 1, "a character of code 11"},
    {"x = -;", 1, "not well formed"},
    {"x = 1.2.3;", 1, "not well formed"},
  };
  return cr_make_param_array(SlipRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SlipRow* row, scan, slip)
{
  Settings* settings = NULL;
  cr_assert_eq(read_text(&settings, row->text), STATUS_SYNTAX);
  cr_assert_null(settings);
  cr_assert_eq(faults.n_faults, 1);
  const Fault* const fault = &faults.faults[0];
  cr_assert_str_eq(fault->file, "test.cfg");
  cr_assert_eq(fault->line, row->line, "line %u: %s", fault->line, fault->text);
  cr_assert_not_null(strstr(fault->text, row->says), "%s", fault->text);
}

typedef struct {
  char     text[64];
  unsigned n_members;
} FineRow;

ParameterizedTestParameters(scan, fine)
{
  static FineRow rows[] = {
    {"", 0},
    {"\n# nothing\n", 0},
    {"x = 1", 1},
    {"x : 1;", 1},
    {"x = 1; # the end", 1}, // libconfig itself wants a line end here
    {"x = 1 y = 2", 2},
    {"x = 1, y = 2;", 2},
    {"// one\n/* two\n */ x = 1;\r\ny = 2;\r\n", 2},
    {"a = [1, 2.5, 3];", 1}, // A mismatched array to libconfig
    {"a = [1, 2,\n];", 1},   // A syntax error to libconfig
    {"a = [];", 1},
    {"a = ( (1, 2), [3], { b = \"/* # } */\"; } );", 1},
    {"x = TRUE; y = False;", 2},
    {"x = 2147483647; y = -2147483647; z = 0x7FFFFFFF;", 3},
    {"x = 99999999999999999999.5; y = 1e20; z = -1.5E-3;", 3},
    {"x = 5L;", 1},
    {"t = \"say \\\"C7\\\" \\\\\"; u = \"caf\xC3\xA9\";", 2},
  };
  return cr_make_param_array(FineRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FineRow* row, scan, fine)
{
  Settings* settings = NULL;
  cr_assert_eq(
    read_text(&settings, row->text), STATUS_OK, "%s", faults.faults[0].text);
  cr_assert_eq(setting_length(settings_top(settings)), row->n_members);
  cr_assert_eq(faults.n_faults, 0);
  settings_close(settings);
}

Test(scan, gives_each_value_its_own_line)
{
  Settings* settings = NULL;
  cr_assert_eq(read_text(&settings,
                         "a = [\n" // 1
                         "  1,\n"
                         "  \"two\"\n"
                         "  ,\n"
                         "  { b = true;\n" // 5
                         "    c = \"x\"\n"
                         "  },\n"
                         "  \"last\"\n"
                         "];\n"
                         "d = \"y\"\n" // 10
                         "\n;\n"),
               STATUS_OK);
  const Setting top = settings_top(settings);
  const Setting a   = setting_find(top, "a");
  cr_assert_eq(setting_line(a), 1);
  cr_assert_eq(setting_line(setting_at(a, 0)), 2);
  cr_assert_eq(setting_line(setting_at(a, 1)), 3);
  cr_assert_eq(setting_line(setting_find(setting_at(a, 2), "b")), 5);
  cr_assert_eq(setting_line(setting_find(setting_at(a, 2), "c")), 6);
  cr_assert_eq(setting_line(setting_at(a, 3)), 8);
  cr_assert_eq(setting_line(setting_find(top, "d")), 10);
  cr_assert_str_eq(setting_name(setting_at(a, 3)), "a");
  settings_close(settings);
}

/// Read `n` times a text between two others.
static Status
read_many(const char* const before,
          const char* const many,
          const unsigned    n,
          const char* const after)
{
  const size_t size = strlen(before) + n * strlen(many) + strlen(after);
  char* const  text = malloc(size + 1);
  strcpy(text, before);
  char* end = text + strlen(text);
  for (unsigned i = 0; i < n; ++i) {
    strcpy(end, many);
    end += strlen(many);
  }
  strcpy(end, after);
  Settings*    settings = NULL;
  const Status status   = read_text(&settings, text);
  settings_close(settings);
  free(text);
  return status;
}

Test(scan, refuses_what_libconfig_would_choke_on)
{
  cr_assert_eq(read_many("a = ", "(", 60000, ""), STATUS_FULL);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_not_null(strstr(faults.faults[0].text, "deep"));

  cr_assert_eq(read_many("a = [", "1,", 17000, "];"), STATUS_FULL);
  cr_assert_not_null(strstr(faults.faults[1].text, "16384"));

  cr_assert_eq(read_many("", "a=1;", 15000, ""), STATUS_FULL);
  cr_assert_not_null(strstr(faults.faults[2].text, "2048"));

  // Names and values of many groups are counted together
  cr_assert_eq(read_many("a = (", "{b=1;},", 2047, ");"), STATUS_OK);
  cr_assert_eq(read_many("a = (", "{b=1;},", 2048, ");"), STATUS_FULL);
  cr_assert_eq(read_many("a = [", "1,", 16384, "];"), STATUS_OK);
  cr_assert_eq(read_many("a = [", "1,", 16385, "];"), STATUS_FULL);
  cr_assert_not_null(strstr(faults.faults[3].text, "name 2049"));
  cr_assert_not_null(strstr(faults.faults[4].text, "value 16385"));
}

Test(scan, takes_64_kib_and_no_more)
{
  cr_assert_eq(read_many("x = 1;", "#", 65536 - 6, ""), STATUS_OK);
  cr_assert_eq(read_many("x = 1;", "#", 65537 - 6, ""), STATUS_FULL);
  cr_assert_not_null(strstr(faults.faults[0].text, "64 KiB"));
}

Test(scan, refuses_a_zero_byte)
{
  Settings* settings = NULL;
  cr_assert_eq(settings_read(&settings, "t", "x = 1;\n\0y", 9, &faults),
               STATUS_SYNTAX);
  cr_assert_eq(faults.faults[0].line, 2);
  cr_assert_not_null(strstr(faults.faults[0].text, "zero byte"));
}
