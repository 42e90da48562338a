#include "responder/page/notebook.h"

#include "responder/lesson/kept.h"
#include "responder/page/ideas.h"
#include "responder/page/task.h"

#include <stdlib.h>
#include <time.h>

enum { SHOWN = 24 };

// Over its own chart, if that is still there
static json_t*
staff_of(Task* const task, const JournalIdea* const kept)
{
  Desk* const desk    = task->desk;
  Choices     own     = task->choices;
  Faults      ignored = {.n_faults = 0};
  kept_own(&own, kept);
  return !setup_load(&desk->setup, &own, &ignored) &&
             desk_lay_kept(desk, kept, (OpeningSpan){0, 0})
           ? ideas_staff(desk, &desk->opening.phrase, true)
           : NULL;
}

static json_t*
kept_json(Task* const task, const JournalIdea* const kept, const size_t number)
{
  const time_t seconds  = (time_t)(kept->kept_ms / 1000);
  struct tm    local    = {0};
  char         when[32] = "";
  char         from[160];
  (void)localtime_r(&seconds, &local);
  (void)strftime(when, sizeof(when), "%Y-%m-%d", &local);
  (void)snprintf(from,
                 sizeof(from),
                 "%.40s, over %.48s in %.20s",
                 kept->origin,
                 kept->chart,
                 kept->key);
  return json_pack("{sI ss ss ss so*}",
                   "number",
                   (json_int_t)number,
                   "name",
                   kept->name,
                   "from",
                   from,
                   "when",
                   when,
                   "staff",
                   staff_of(task, kept));
}

static json_t*
make_list(Task* const task, const char* const folder)
{
  JournalIdeas ideas = {.n_ideas = 0};
  Fault        fault;
  (void)folder;
  if (kept_load(&ideas, &task->who, &fault)) {
    return task_fail(task, &fault);
  }
  json_t* const list = json_array();
  const size_t  n    = ideas.n_ideas;
  for (size_t i = n; i > 0 && n - i < SHOWN; --i) { // The latest first
    (void)json_array_append_new(list, kept_json(task, &ideas.ideas[i - 1], i));
  }
  journal_ideas_free(&ideas);
  return json_pack("{so}", "ideas", list);
}

json_t*
notebook_list(Page* const page, WireCall* const call)
{
  Task* const task = task_begin(page, call, make_list);
  if (!task) {
    return NULL;
  }
  task->desk = calloc(1, sizeof(*task->desk));
  if (!task->desk) {
    task_drop(task);
    return face_refuse(call, NULL, "%s", status_text(STATUS_MEMORY));
  }
  return task_give(page, task, call);
}

// One of them

static Status
change(const Task* const         task,
       const JournalIdeas* const ideas,
       Fault* const              fault)
{
  if (task->number > ideas->n_ideas) {
    return fault_say(
      fault, STATUS_RANGE, "the notebook has no idea %u", task->number);
  }
  const JournalId id = ideas->ideas[task->number - 1].id;
  return task->count ? kept_remove(&task->who, id, fault)
                     : kept_rename(&task->who, id, task->text, fault);
}

static json_t*
make_change(Task* const task, const char* const folder)
{
  JournalIdeas ideas = {.n_ideas = 0};
  Fault        fault;
  (void)folder;
  if (kept_load(&ideas, &task->who, &fault)) {
    return task_fail(task, &fault);
  }
  const Status status = change(task, &ideas, &fault);
  journal_ideas_free(&ideas);
  return status ? task_fail(task, &fault) : json_object();
}

static json_t*
give(Page* const page, WireCall* const call, const char* const name)
{
  Task* const task = task_begin(page, call, make_change);
  if (!task) {
    return NULL;
  }
  task->number = (unsigned)call->values[0].number;
  task->count  = !name; // To be taken out
  (void)snprintf(task->text, sizeof(task->text), "%s", name ? name : "");
  return task_give(page, task, call);
}

json_t*
notebook_rename(Page* const page, WireCall* const call)
{
  return give(page, call, call->values[1].text);
}

json_t*
notebook_remove(Page* const page, WireCall* const call)
{
  return give(page, call, NULL);
}
