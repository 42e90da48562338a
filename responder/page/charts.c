#include "responder/page/charts.h"

#include "responder/lesson/charts.h"
#include "responder/page/state.h"
#include "responder/page/task.h"

#include <stdlib.h>
#include <string.h>

static json_t*
listed(const PlaceEntry* const entry)
{
  static const char nothing[] = "";
  ChartFile* const  file      = malloc(sizeof(*file));
  Faults            faults    = {.n_faults = 0};
  char              path[PLACE_PATH_CAPACITY];
  const bool is_read = file && !charts_load(file, entry->name, path, &faults);
  json_t* const one  = json_pack("{ss ss sb}",
                                "name",
                                entry->name,
                                "title",
                                is_read ? file->chart.title : nothing,
                                "is_own",
                                (int)entry->is_own);
  free(file);
  return one;
}

static json_t*
make_list(Task* const task, const char* const folder)
{
  PlaceList     places;
  json_t* const list = json_array();
  (void)task;
  (void)folder;
  if (!place_list(PLACE_CHARTS, &places)) {
    for (size_t i = 0; i < places.n_entries; ++i) {
      (void)json_array_append_new(list, listed(&places.entries[i]));
    }
    place_list_free(&places);
  }
  return json_pack("{so}", "charts", list);
}

json_t*
charts_list(Page* const page, WireCall* const call)
{
  Task* const task = task_begin(page, call, make_list);
  return task ? task_give(page, task, call) : NULL;
}

json_t*
charts_read(Page* const page, WireCall* const call)
{
  const char* const name = call->values[0].text;
  char              path[PLACE_PATH_CAPACITY];
  size_t            size = 0;
  (void)page;
  call->field = "name";
  if (!face_is_name(CHOICE_CHART, name, &call->fault) ||
      place_find(PLACE_CHARTS, name, path, &call->fault)) {
    return NULL;
  }
  char* const   text = task_read_file(path, &size);
  json_t* const made =
    text ? json_pack("{ss ss%}", "name", name, "text", text, size) : NULL;
  free(text);
  return made ? made : face_refuse(call, "name", "%.60s cannot be read", name);
}

// A fault of a bar begins with its number
static json_t*
fault_of(const Fault* const fault)
{
  unsigned bar   = 0;
  int      after = 0;
  if (sscanf(fault->text, "bar %u: %n", &bar, &after) != 1 || !after) {
    after = 0;
  }
  json_t* const object =
    json_pack("{si ss}", "line", (int)fault->line, "text", fault->text + after);
  if (after) {
    (void)json_object_set_new(object, "bar", json_integer(bar));
  }
  return object;
}

static json_t*
faults_of(const Faults* const faults)
{
  json_t* const list = json_array();
  for (unsigned i = 0; i < faults->n_faults; ++i) {
    (void)json_array_append_new(list, fault_of(&faults->faults[i]));
  }
  return list;
}

json_t*
charts_look(Page* const page, WireCall* const call)
{
  ChartFile* const file   = calloc(1, sizeof(*file));
  Faults           faults = {.n_faults = 0};
  json_t*          form   = NULL;
  if (file && !charts_check(file, call->values[0].text, &faults)) {
    page->trial                  = page->next;
    page->trial.chart            = *file;
    const SessionOptions session = setup_session(&page->trial);
    form                         = state_form(&session);
  }
  free(file);
  return json_pack("{so so*}", "faults", faults_of(&faults), "form", form);
}

json_t*
charts_keep(Page* const page, WireCall* const call)
{
  const char* const name   = call->values[0].text;
  Faults            faults = {.n_faults = 0};
  char              path[PLACE_PATH_CAPACITY];
  if (charts_save(name, call->values[1].text, path, &faults)) {
    return face_refuse_all(call, NULL, &faults);
  }
  face_tell_state(page, STATE_TABLE);
  return json_pack("{ss}", "name", name);
}
