// Every shipped file, cut at every byte: it reads, or says why not; it never
// falls over.

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "profiles/choices/choices_file.h"
#include "profiles/files/ladder_file.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static ChartFile chart;
static Choices   choices;
static Faults    faults;
static Feel      feel;
static Ladder    ladder;
static char      text[SETTINGS_SIZE_MAX];

typedef Status (*Reader)(Settings* settings);

static Status
read_chart(Settings* const settings)
{
  return chart_file_read(&chart, settings);
}

static Status
read_feel(Settings* const settings)
{
  return feel_file_read(&feel, settings);
}

static Status
read_ladder(Settings* const settings)
{
  return ladder_file_read(&ladder, settings);
}

static Status
read_choices(Settings* const settings)
{
  choices = choices_plain();
  choices_file_read(&choices, CHOICE_BY_BARTER, settings);
  return settings_status(settings);
}

/// Check that there is a fault, in the file and on a line that it has.
static void
check_faults(const char* const path, const size_t length)
{
  unsigned n_lines = 1;
  for (size_t i = 0; i < length; ++i) {
    n_lines += text[i] == '\n';
  }
  cr_assert_gt(faults.n_faults, 0, "%s cut at %zu", path, length);
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    const Fault* const fault = &faults.faults[i];
    cr_assert_eq(strncmp(fault->file, path, sizeof(fault->file) - 1), 0);
    cr_assert_leq(fault->line, n_lines, "%s cut at %zu", path, length);
    cr_assert_neq(fault->text[0], '\0');
    cr_assert(fault->line > 0 || strstr(fault->text, "is missing"),
              "%s cut at %zu: %s",
              path,
              length,
              fault->text);
  }
}

/// Return how many cuts of a file read without a fault.
static unsigned
cut(const char* const path, const Reader reader)
{
  FILE* const file = fopen(path, "r");
  cr_assert_not_null(file, "%s", path);
  const size_t size = fread(text, 1, sizeof(text), file);
  cr_assert_eq(fclose(file), 0);

  unsigned n_read = 0;
  for (size_t length = 0; length <= size; ++length) {
    Settings* settings = NULL;
    faults             = (Faults){0};
    Status status      = settings_read(&settings, path, text, length, &faults);
    if (status == STATUS_OK) {
      status = reader(settings);
      settings_close(settings);
    }
    if (status == STATUS_OK) {
      cr_assert_eq(faults.n_faults, 0);
      ++n_read;
    } else {
      check_faults(path, length);
    }
  }
  return n_read;
}

static void
cut_all(const PlaceKind kind, const Reader reader)
{
  cr_assert_eq(setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1), 0);
  cr_assert_eq(setenv("XDG_CONFIG_HOME", "/nowhere", 1), 0);
  PlaceList list;
  cr_assert_eq(place_list(kind, &list), STATUS_OK);
  for (size_t i = 0; i < list.n_entries; ++i) {
    char  path[PLACE_PATH_CAPACITY];
    Fault fault;
    cr_assert_eq(place_find(kind, list.entries[i].name, path, &fault),
                 STATUS_OK);
    const unsigned n_read = cut(path, reader);
    cr_assert_gt(n_read, 0, "the whole file reads");
    cr_assert_lt(n_read, 500, "only what follows the last value may go");
  }
  place_list_free(&list);
}

Test(cut, charts)
{
  cut_all(PLACE_CHARTS, read_chart);
}

Test(cut, feels)
{
  cut_all(PLACE_FEELS, read_feel);
}

Test(cut, the_ladder)
{
  const unsigned n_read =
    cut(BARTER_SOURCE_DIR "/config/ladder.cfg", read_ladder);
  cr_assert_gt(n_read, 0);
  cr_assert_lt(n_read, 10);
}

// Everything in it may be left out, and so most cuts between settings read
Test(cut, choices)
{
  cr_assert_gt(cut(BARTER_SOURCE_DIR "/config/barter.cfg", read_choices), 0);
}
