#include "responder/app/command.h"

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/settings/places.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 79 };

static const char by_chord[] = "by chord"; // Before the kinds of scale

static int
tell_entry(const PlaceEntry* const entry, ChartFile* const file)
{
  char   path[PLACE_PATH_CAPACITY];
  Fault  fault;
  Faults faults = {.n_faults = 0};
  if (place_find(PLACE_CHARTS, entry->name, path, &fault)) {
    return command_fail(&fault);
  }
  if (chart_file_load(file, path, &faults)) {
    return command_fail_all(&faults);
  }
  const Chart* const chart = &file->chart;
  char               key[KEY_TEXT_CAPACITY];
  char               meter[METER_TEXT_CAPACITY];
  (void)printf("%-20s %3u bars  %-5s %-9s %s%s\n",
               entry->name,
               chart->n_bars,
               meter_text(chart->meter, meter),
               key_text(chart->key, key),
               chart->title,
               entry->is_own ? "  (your own)" : "");
  return EXIT_DONE;
}

static int
tell_feel(const PlaceEntry* const entry, Feel* const feel)
{
  char   path[PLACE_PATH_CAPACITY];
  Fault  fault;
  Faults faults = {.n_faults = 0};
  if (place_find(PLACE_FEELS, entry->name, path, &fault)) {
    return command_fail(&fault);
  }
  if (feel_file_load(feel, path, &faults)) {
    return command_fail_all(&faults);
  }
  (void)printf("%-20s for", entry->name);
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    char meter[METER_TEXT_CAPACITY];
    (void)printf(" %s", meter_text(feel->meters[i], meter));
  }
  (void)printf("%s\n", entry->is_own ? "  (your own)" : "");
  return EXIT_DONE;
}

static int
tell_feels(void)
{
  PlaceList   feels;
  Feel* const feel = calloc(1, sizeof(*feel));
  if (!feel || place_list(PLACE_FEELS, &feels)) {
    free(feel);
    return command_fail_memory();
  }
  int code = EXIT_DONE;
  (void)printf("\nFeels\n");
  for (size_t i = 0; i < feels.n_entries; ++i) {
    const int own = tell_feel(&feels.entries[i], feel);
    code          = own ? own : code;
  }
  place_list_free(&feels);
  free(feel);
  return code;
}

// The names in lines of a page's width
static void
tell_scales(void)
{
  unsigned column = (unsigned)printf("\nScales\n%s", by_chord) - 8U;
  for (unsigned i = 0; i < scale_kinds(); ++i) {
    const char* const name   = scale_kind_name(i);
    const unsigned    length = (unsigned)strlen(name);
    const bool        breaks = column + 2 + length > WIDTH;
    (void)printf("%s%s", breaks ? ",\n" : ", ", name);
    column = breaks ? length : column + 2 + length;
  }
  (void)printf("\n");
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse(
      "charts takes no file; barter check FILE looks at one");
  }
  PlaceList        charts;
  ChartFile* const file = calloc(1, sizeof(*file));
  if (!file || place_list(PLACE_CHARTS, &charts)) {
    free(file);
    return command_fail_memory();
  }
  int code = EXIT_DONE;
  for (size_t i = 0; i < charts.n_entries; ++i) {
    const int own = tell_entry(&charts.entries[i], file);
    code          = own ? own : code;
  }
  const int feels = tell_feels();
  tell_scales();
  place_list_free(&charts);
  free(file);
  return code ? code : feels;
}

const Command command_charts = {
  .name     = "charts",
  .operands = "",
  .summary  = "list the charts, feels and scales there are",
  .words =
    "Lists the charts, your own first where two have one name, and the feels\n"
    "with the meters they are for, and what a chart's scale may be.\n"
    "Your own stand in the folders charts and feels of ~/.config/barter.",
  .options = 0,
  .run     = run,
};
