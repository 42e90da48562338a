#include "responder/page/look_back.h"

#include "responder/lesson/kept.h"
#include "responder/lesson/sessions.h"
#include "responder/page/hear.h"
#include "responder/page/state.h"
#include "responder/page/staves.h"
#include "responder/page/task.h"
#include "responder/record/recorded.h"
#include "responder/record/report.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LISTED = 100 };

static const char dropped_name[] = "file"; // Of one that was brought in

// A recording on its way

static json_t*
turns_of(const Recall* const recall)
{
  json_t* const list = json_array();
  for (unsigned i = 0; i < recall->n_turns; ++i) {
    (void)json_array_append_new(
      list, report_turn(recall->session.chart, &recall->turns[i]));
  }
  return list;
}

// Of a take that nobody answered every turn is the player's
static json_t*
form_of(const Recall* const recall)
{
  const Tick    bar   = meter_bar_ticks(recall->session.chart->meter);
  json_t* const form  = state_form(&recall->session);
  json_t* const turns = json_array();
  for (unsigned i = 0; i < recall->n_turns; ++i) {
    const Turn turn = recall->turns[i].turn;
    (void)json_array_append_new(
      turns,
      json_pack("{ss si si}",
                "by",
                turn.by_player ? "player" : "partner",
                "first_bar",
                (int)turn.first_bar,
                "bars",
                (int)((turn.end - turn.start) / bar)));
  }
  (void)json_object_set_new(form, "turns", turns);
  return form;
}

static json_t*
notices_of(const Notices* const notices)
{
  json_t* const list = json_array();
  for (unsigned i = 0; i < notices->n; ++i) {
    (void)json_array_append_new(list, json_string(notices->lines[i]));
  }
  return list;
}

static json_t*
described(const Recall* const recall, const char* const name)
{
  const SummaryWords words = summary_words(&recall->summary);
  return json_pack("{ss sf sb so so so so s[ss] ss ss}",
                   "name",
                   name,
                   "tempo",
                   recall->session.tempo_bpm,
                   "answered",
                   (int)recall->is_answered,
                   "form",
                   form_of(recall),
                   "tones",
                   state_tones(recall->session.chart),
                   "turns",
                   turns_of(recall),
                   "notices",
                   notices_of(&recall->notices),
                   "worked",
                   words.worked[0],
                   words.worked[1],
                   "work_on",
                   words.work_on,
                   "next_time",
                   words.next_time);
}

static Status
fetch(Task* const task)
{
  Tick       ignored = 0;
  Choices    then;
  Fault      fault;
  const bool is_session =
    strcmp(task->text, dropped_name) != 0 ||
    !recorded_choices(&then, &ignored, task->path, &fault);
  return is_session
           ? recall_session(&task->recall, task->path, &task->faults)
           : recall_take(
               &task->recall, task->path, &task->choices, &task->faults);
}

static json_t*
make_recall(Task* const task, const char* const folder)
{
  const bool   is_dropped = strcmp(task->text, dropped_name) == 0;
  const Status status     = fetch(task);
  (void)folder;
  if (is_dropped) {
    (void)unlink(task->path);
  }
  if (status && is_dropped) { // It is called otherwise where it came from
    task->faults.faults[0].file[0] = '\0';
  }
  return status ? NULL : described(task->recall, task->text);
}

static void
take_recall(Page* const page, Task* const task)
{
  look_back_forget(page);
  page->recall = task->recall;
  task->recall = NULL;
  (void)snprintf(page->recalled, sizeof(page->recalled), "%.63s", task->text);
}

static json_t*
recall(Page* const       page,
       const char* const name,
       const char* const path,
       WireCall* const   call)
{
  Task* const task = task_begin(page, call, make_recall);
  if (!task) {
    return NULL;
  }
  (void)snprintf(task->text, sizeof(task->text), "%s", name);
  (void)snprintf(task->path, sizeof(task->path), "%s", path);
  task->done  = take_recall;
  call->field = "name";
  return task_give(page, task, call);
}

void
look_back_forget(Page* const page)
{
  if (page->recall) {
    hear_stop(page);
    recall_free(page->recall);
    page->recall = NULL;
  }
}

json_t*
look_back_take(Page* const page, const char* const path, WireCall* const call)
{
  return recall(page, dropped_name, path, call);
}

// Requests

json_t*
look_back_open(Page* const page, WireCall* const call)
{
  const char* const name = call->values[0].text;
  char              path[PLACE_PATH_CAPACITY];
  call->field = "name";
  return sessions_path(page->playing.folder, name, path, &call->fault)
           ? NULL
           : recall(page, name, path, call);
}

static json_t*
listed(const char* const folder, const char* const name)
{
  char    path[PLACE_PATH_CAPACITY];
  Choices choices;
  Tick    bar_one = 0;
  Fault   fault;
  return sessions_path(folder, name, path, &fault) ||
             recorded_choices(&choices, &bar_one, path, &fault)
           ? NULL
           : json_pack("{ss ss ss sf}",
                       "name",
                       name,
                       "chart",
                       choices.chart,
                       "key",
                       choices.key,
                       "tempo",
                       choices.tempo_bpm);
}

static json_t*
make_list(Task* const task, const char* const folder)
{
  SessionNames  names = {.n = 0};
  json_t* const list  = json_array();
  (void)folder;
  if (task->path[0] && !sessions_list(&names, task->path)) {
    for (size_t i = 0; i < names.n && json_array_size(list) < LISTED; ++i) {
      json_t* const one = listed(task->path, names.names[i]);
      if (one) {
        (void)json_array_append_new(list, one);
      }
    }
    free(names.names);
  }
  return json_pack("{so}", "list", list);
}

json_t*
look_back_list(Page* const page, WireCall* const call)
{
  Task* const task = task_begin(page, call, make_list);
  if (!task) {
    return NULL;
  }
  (void)snprintf(task->path, sizeof(task->path), "%s", page->playing.folder);
  return task_give(page, task, call);
}

const Recall*
look_back_at(const Page* const page, WireCall* const call)
{
  const char* const name = call->values[0].text;
  if (!page->recall || strcmp(page->recalled, name) != 0) {
    (void)face_refuse(call, "name", "%.60s is not open", name);
    return NULL;
  }
  return page->recall;
}

const TurnRecord*
look_back_turn(const Page* const page, WireCall* const call)
{
  const Recall* const recall = look_back_at(page, call);
  const unsigned      index  = (unsigned)call->values[1].number;
  for (unsigned i = 0; recall && i < recall->n_turns; ++i) {
    if (recall->turns[i].turn.index == index) {
      return &recall->turns[i];
    }
  }
  if (recall) {
    (void)face_refuse(call, "turn", "there is no turn %u", index);
  }
  return NULL;
}

json_t*
look_back_staff(Page* const page, WireCall* const call)
{
  const TurnRecord* const record = look_back_turn(page, call);
  return record ? staves_answer(page, &page->recall->session, record, call)
                : NULL;
}

// A copy of what is to be kept lies on the task's desk
static json_t*
make_kept(Task* const task, const char* const folder)
{
  size_t number = 0;
  bool   is_new = false;
  Fault  fault;
  (void)folder;
  return kept_add_phrase(&task->who,
                         &task->desk->setup,
                         &task->desk->found.ways[0].answer.heard,
                         task->text,
                         &number,
                         &is_new,
                         &fault)
           ? task_fail(task, &fault)
           : task_kept(number, is_new);
}

json_t*
look_back_keep(Page* const page, WireCall* const call)
{
  const TurnRecord* const record   = look_back_turn(page, call);
  const bool              has_book = page->trading.who.has_place;
  if (!record) {
    return NULL;
  }
  if (!has_book || !record->phrase.n_notes) {
    return face_refuse(call,
                       NULL,
                       has_book ? "nothing was played in this turn"
                                : "nobody is chosen whose notebook it is");
  }
  Task* const task = task_begin(page, call, make_kept);
  if (!task) {
    return NULL;
  }
  task->desk = calloc(1, sizeof(*task->desk));
  if (!task->desk) {
    task_drop(task);
    return face_refuse(call, NULL, "%s", status_text(STATUS_MEMORY));
  }
  task->desk->setup                      = page->recall->setup;
  task->desk->found.ways[0].answer.heard = record->phrase;
  task->done                             = task_look_again;
  (void)snprintf(task->text,
                 sizeof(task->text),
                 "%s",
                 record->turn.by_player ? "phrase" : session_turn_name(record));
  return task_give(page, task, call);
}
