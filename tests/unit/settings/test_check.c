#include "profiles/files/check.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static Faults faults;

static void
use_shipped_files(void)
{
  cr_assert_eq(setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1), 0);
  cr_assert_eq(setenv("XDG_CONFIG_HOME", "/nowhere", 1), 0);
}

TestSuite(check, .init = use_shipped_files);

Test(check, finds_nothing_in_what_is_shipped)
{
  static const char* const files[] = {
    "barter.cfg",
    "ladder.cfg",
    "sentences.cfg",
    "charts/blues.cfg",
    "charts/blues-jazz.cfg",
    "charts/blues-minor.cfg",
    "charts/blues-quick-change.cfg",
    "charts/modal-vamp.cfg",
    "charts/one-chord.cfg",
    "charts/sixteen-bar.cfg",
    "charts/two-five-one.cfg",
    "charts/waltz.cfg",
    "feels/swing.cfg",
    "feels/straight.cfg",
  };
  for (unsigned i = 0; i < sizeof(files) / sizeof(*files); ++i) {
    char path[512];
    char text[FAULT_TEXT_CAPACITY];
    (void)snprintf(
      path, sizeof(path), "%s/config/%s", BARTER_SOURCE_DIR, files[i]);
    cr_assert_eq(check_file(path, &faults),
                 STATUS_OK,
                 "%s",
                 fault_text(&faults.faults[0], text, sizeof(text)));
  }
  cr_assert_eq(faults.n_faults, 0);
}

typedef struct {
  char     text[224];
  unsigned line;
  char     says[64];
} CheckRow;

#define CHART "title = \"T\"; meter = \"4/4\"; key = \"C\"; scale = \"major\";"
#define FEEL "title = \"T\"; meters = \"3/4\"; swing = 1; bass_line = \"two\";"

ParameterizedTestParameters(check, kind)
{
  static CheckRow rows[] = {
    {"bars = [\"I\"];", 0, "title is missing"},     // A chart
    {"meter = \"4/4\";", 0, "bars is missing"},     // A chart
    {"drums = ();", 0, "bass_line is missing"},     // A feel
    {"meters = [\"4/4\"];", 0, "swing is missing"}, // A feel
    {"budget = 6;", 0, "rhythm is missing"},        // A ladder
    {"shape = ();", 1, "shape holds 0 values"},     // A ladder
    {"bars = 3;", 1, "write 1, 2 or 4"},            // Defaults
    {"tempoo = 90;", 1, "write tempo"},             // Defaults
    {"\nchart = \"blus\";", 2, "the nearest is blues"},
    {"\nfeel = \"no such feel\";", 2, "there is no feel"},
    {"\nrung = \"notes=9\";", 2, "\"notes=9\" is not understood"},
    {CHART "bars = [\"I\"];\nfeel = \"no such feel\";", 2, "there is no feel"},
    {CHART "bars = [\"I\"];\nfeel = \"./a.cfg\";", 2, "has faults of its own"},
  };
  return cr_make_param_array(CheckRow, rows, sizeof(rows) / sizeof(*rows));
}

/// Write a text to a file of ours and check it.
static Status
check_text(const char* const text)
{
  char      path[] = "/tmp/barter-test-XXXXXX";
  const int file   = mkstemp(path);
  cr_assert_geq(file, 0);
  cr_assert_eq(write(file, text, strlen(text)), (ssize_t)strlen(text));
  cr_assert_eq(close(file), 0);
  const Status status = check_file(path, &faults);
  cr_assert_eq(unlink(path), 0);
  return status;
}

ParameterizedTest(CheckRow* row, check, kind)
{
  cr_assert_neq(check_text(row->text), STATUS_OK);
  bool is_said = false;
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    const Fault* const fault = &faults.faults[i];
    is_said =
      is_said || (fault->line == row->line && strstr(fault->text, row->says));
  }
  cr_assert(is_said, "%u: %s", faults.faults[0].line, faults.faults[0].text);
}

Test(check, asks_that_the_feel_fits_the_meter)
{
  char      path[] = "/tmp/barter-test-XXXXXX";
  char      text[256];
  const int file = mkstemp(path);
  cr_assert_geq(file, 0);
  cr_assert_eq(write(file, FEEL, strlen(FEEL)), (ssize_t)strlen(FEEL));
  cr_assert_eq(close(file), 0);
  (void)snprintf(
    text, sizeof(text), CHART "bars = [\"I\"]; feel = \"%s\";", path);
  cr_assert_neq(check_text(text), STATUS_OK);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_not_null(strstr(faults.faults[0].text, "is not for 4/4"));

  *strstr(text, "4/4") = '3';
  faults               = (Faults){0};
  cr_assert_eq(check_text(text), STATUS_OK, "%s", faults.faults[0].text);
  cr_assert_eq(unlink(path), 0);
}

Test(check, says_so_if_there_is_no_file)
{
  cr_assert_eq(check_file("/nowhere/x.cfg", &faults), STATUS_MISSING);
  cr_assert_eq(faults.n_faults, 1);
}
