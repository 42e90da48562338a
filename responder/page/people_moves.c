#include "responder/page/people.h"

#include "core/files/file.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/removal.h"
#include "responder/lesson/today.h"
#include "responder/page/drop.h"
#include "responder/page/state.h"
#include "responder/page/task.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

// Out and in

static Status
write_export(const char* const   path,
             const Person* const person,
             Fault* const        fault)
{
  FileSaving saving;
  Faults     ignored = {.n_faults = 0};
  Status     status  = file_begin(&saving, path, FILE_PRIVATE, fault);
  if (status) {
    return status;
  }
  status = learners_export(saving.stream, person, &ignored, fault);
  if (status) {
    file_abandon(&saving);
    return status;
  }
  return file_end(&saving, fault);
}

static json_t*
make_export(Task* const task, const char* const folder)
{
  char  path[PLACE_PATH_CAPACITY];
  char  name[PEOPLE_ID_CAPACITY + 8];
  Fault fault;
  (void)snprintf(path, sizeof(path), "%s/export.json", folder);
  (void)snprintf(name, sizeof(name), "%s.json", task->who.person.id);
  return write_export(path, &task->who.person, &fault)
           ? task_fail(task, &fault)
           : task_answer_file(path, name, "application/json");
}

json_t*
people_export(Page* const page, WireCall* const call)
{
  Person person;
  if (!people_of_call(call, &person)) {
    return NULL;
  }
  Task* const task = task_begin(page, call, make_export);
  if (!task) {
    return NULL;
  }
  task->who.person = person;
  return task_give(page, task, call);
}

// Removing: for thirty days it can be taken back, or for good

static json_t*
make_removed(Task* const task, const char* const folder)
{
  const Person* const person  = &task->who.person;
  const bool          is_good = task->number;
  Removed             removed;
  Fault               fault;
  (void)folder;
  if (is_good ? removal_for_good(person, &removed, &fault)
              : removal_keep(person, today(), task->path, &fault)) {
    return task_fail(task, &fault);
  }
  return json_pack("{si ss}",
                   "days",
                   is_good ? 0 : (int)REMOVAL_DAYS,
                   "path",
                   is_good ? "" : task->path);
}

static void
is_removed(Page* const page, Task* const task)
{
  (void)snprintf(page->removed, sizeof(page->removed), "%s", task->path);
  (void)snprintf(
    page->removed_id, sizeof(page->removed_id), "%s", task->who.person.id);
  who_look(&page->trading.who);
  face_tell_state(page, STATE_PEOPLE);
}

json_t*
people_drop(Page* const page, WireCall* const call)
{
  const Who* const who = &page->trading.who;
  Person           person;
  call->field = "id"; // Who is gone already may still be gone for good
  if (people_place(&person, call->values[0].text, &call->fault) ||
      (!call->values[1].flag && !people_of_call(call, &person))) {
    return NULL;
  }
  if (page->is_begun && who->has_place &&
      strcmp(person.id, who->person.id) == 0) {
    return face_refuse(call, "id", "a session of theirs is being played");
  }
  Task* const task = task_begin(page, call, make_removed);
  if (!task) {
    return NULL;
  }
  task->number     = call->values[1].flag;
  task->who.person = person;
  task->done       = is_removed;
  return task_give(page, task, call);
}

// Bringing in

// What becomes of a file where its ID is somebody else's
typedef enum { BRING_ASKED, BRING_AS_SAME, BRING_APART } Bringing;

/// Look at a file once more, of somebody else: whoever it is about, or an ID
/// that is free.
static Status
look_apart(LearnersImport* const it, const char* const path, Fault* const fault)
{
  Person apart;
  learners_import_free(it);
  Status status = learners_import_look(it, path, NULL, fault);
  if (status || !it->is_other) {
    return status;
  }
  status = people_free_place(&apart, it->person.id, fault);
  learners_import_free(it);
  return status ? status : learners_import_look(it, path, apart.id, fault);
}

static Status
look_at(LearnersImport* const it,
        const Task* const     task,
        const Bringing        way,
        Fault* const          fault)
{
  const char* const id     = task->text[0] ? task->text : NULL;
  const Status      status = learners_import_look(it, task->path, id, fault);
  return !status && way == BRING_APART && it->is_other
           ? look_apart(it, task->path, fault)
           : status;
}

static json_t*
make_brought_in(Task* const task, const char* const folder)
{
  const Bringing way = (Bringing)task->number;
  LearnersImport it;
  LearnersGain   gain;
  Fault          fault;
  (void)folder;
  if (look_at(&it, task, way, &fault)) {
    return task_fail(task, &fault);
  }
  const Status status =
    it.is_other && way != BRING_AS_SAME
      ? fault_say(&fault, STATUS_RANGE, "say first that they are the same")
      : learners_import(&it, NULL, &gain, &fault);
  const Person person = it.person;
  learners_import_free(&it);
  return status ? task_fail(task, &fault) : json_pack("{ss}", "id", person.id);
}

static void
is_brought_in(Page* const page, Task* const task)
{
  char* const paths[] = {page->removed, page->import};
  for (unsigned i = 0; i < 2; ++i) {
    if (strcmp(paths[i], task->path) == 0) {
      paths[i][0] = '\0';
    }
  }
  (void)unlink(task->path);
  who_look(&page->trading.who);
  face_tell_state(page, STATE_PEOPLE);
}

static json_t*
bring_in(Page* const       page,
         WireCall* const   call,
         const char* const path,
         const char* const id,
         const Bringing    way)
{
  if (!path[0]) {
    return face_refuse(call, NULL, "there is nothing to bring in");
  }
  Task* const task = task_begin(page, call, make_brought_in);
  if (!task) {
    return NULL;
  }
  (void)snprintf(task->path, sizeof(task->path), "%s", path);
  (void)snprintf(task->text, sizeof(task->text), "%s", id);
  task->number = way;
  task->done   = is_brought_in;
  return task_give(page, task, call);
}

json_t*
people_undo(Page* const page, WireCall* const call)
{
  return bring_in(page, call, page->removed, page->removed_id, BRING_APART);
}

json_t*
people_import(Page* const page, WireCall* const call)
{
  const bool     is_same  = call->values[0].flag;
  const bool     is_apart = call->values[1].flag;
  const Bringing way      = is_same    ? BRING_AS_SAME
                            : is_apart ? BRING_APART
                                       : BRING_ASKED;
  return bring_in(page, call, page->import, "", way);
}

static json_t*
make_look(Task* const task, const char* const folder)
{
  LearnersImport it;
  Fault          fault;
  (void)folder;
  if (learners_import_look(&it, task->path, NULL, &fault)) {
    fault.file[0] = '\0'; // It is called otherwise where it came from
    return task_fail(task, &fault);
  }
  char       words[200];
  const bool is_other = it.is_other;
  (void)snprintf(words,
                 sizeof(words),
                 it.is_new  ? "%s, who is not here yet."
                 : is_other ? "%s, but the one who is here is somebody else. "
                              "Once they are one, nobody can part them again."
                            : "%s, who is here already: what is new is added.",
                 it.person.id);
  learners_import_free(&it);
  return json_pack("{s[s] sb}", "words", words, "is_other", (int)is_other);
}

json_t*
people_look(Page* const page, WireCall* const call)
{
  if (page->import[0]) {
    (void)unlink(page->import);
    page->import[0] = '\0';
  }
  if (!drop_take(page, page->import, call)) {
    return NULL;
  }
  Task* const task = task_begin(page, call, make_look);
  if (!task) {
    return NULL;
  }
  (void)snprintf(task->path, sizeof(task->path), "%s", page->import);
  return task_give(page, task, call);
}
