#include "responder/app/command.h"

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "responder/tell/wrap.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAME_COLUMNS = 21 };

static const char by_chord_first[] = "by chord,"; // Before the kinds of scale

static Wrap
begin_entry(const PlaceEntry* const entry)
{
  const unsigned taken = (unsigned)strlen(entry->name) + 1;
  return wrap_begin(
    stdout, taken > NAME_COLUMNS ? taken : NAME_COLUMNS, entry->name);
}

static void
end_entry(Wrap* const wrap, const PlaceEntry* const entry)
{
  if (entry->is_own) {
    wrap_piece(wrap, " (your own)");
  }
  wrap_end(wrap);
}

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
  char               bars[16];
  char               cell[64];
  Wrap               wrap = begin_entry(entry);
  (void)snprintf(bars, sizeof(bars), "%3u bars ", chart->n_bars);
  wrap_piece(&wrap, bars);
  (void)snprintf(cell, sizeof(cell), "%-5s", meter_text(chart->meter, meter));
  wrap_piece(&wrap, cell);
  (void)snprintf(cell, sizeof(cell), "%-9s", key_text(chart->key, key));
  wrap_piece(&wrap, cell);
  wrap_words(&wrap, chart->title);
  end_entry(&wrap, entry);
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
  Wrap wrap = begin_entry(entry);
  wrap_piece(&wrap, "for");
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    char meter[METER_TEXT_CAPACITY];
    wrap_piece(&wrap, meter_text(feel->meters[i], meter));
  }
  end_entry(&wrap, entry);
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

static void
tell_scales(void)
{
  (void)printf("\nScales\n");
  Wrap wrap = wrap_begin(stdout, 0, "");
  wrap_piece(&wrap, by_chord_first);
  for (unsigned i = 0; i < scale_kinds(); ++i) {
    char name[SCALE_TEXT_CAPACITY];
    (void)snprintf(name,
                   sizeof(name),
                   "%s%s",
                   scale_kind_name(i),
                   i + 1 < scale_kinds() ? "," : "");
    wrap_piece(&wrap, name);
  }
  wrap_end(&wrap);
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
