#include "responder/page/people.h"

#include "profiles/choices/choices_file.h"
#include "profiles/journal/day.h"
#include "profiles/learner/learner_file.h"
#include "responder/lesson/class.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/removal.h"
#include "responder/lesson/today.h"
#include "responder/page/state.h"
#include "responder/page/task.h"
#include "responder/setup/in_force.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static json_t*
done(Page* const page)
{
  face_tell_state(page, STATE_PEOPLE);
  return json_object();
}

bool
people_of_call(WireCall* const call, Person* const person)
{
  call->field = "id";
  return !people_find(person, call->values[0].text, &call->fault);
}

// Adding

// Small letters and digits of a name, the rest as `-`
static void
name_id(const char* const name, char id[PEOPLE_ID_CAPACITY])
{
  size_t n = 0;
  for (const char* at = name; *at && n < PEOPLE_ID_CAPACITY - 4; ++at) {
    const char c = *at;
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      id[n++] = c;
    } else if (c >= 'A' && c <= 'Z') {
      id[n++] = (char)(c - 'A' + 'a');
    } else if (n && id[n - 1] != '-') {
      id[n++] = '-';
    }
  }
  while (n && id[n - 1] == '-') {
    --n;
  }
  (void)snprintf(id + n, PEOPLE_ID_CAPACITY - n, "%s", n ? "" : "learner");
}

Status
people_free_place(Person* const     person,
                  const char* const name,
                  Fault* const      fault)
{
  char id[PEOPLE_ID_CAPACITY];
  name_id(name, id);
  const size_t n      = strlen(id);
  Status       status = people_place(person, id, fault);
  for (unsigned i = 2; !status && people_is_there(person) && i < 100; ++i) {
    (void)snprintf(id + n, sizeof(id) - n, "%u", i);
    status = people_place(person, id, fault);
  }
  return status;
}

json_t*
people_add(Page* const page, WireCall* const call)
{
  const char* const name   = call->values[0].text;
  Faults            faults = {.n_faults = 0};
  Choices           choices;
  Person            person;
  call->field = "name";
  if (learner_check_name(name, &call->fault)) {
    return NULL;
  }
  if (choices_load(&choices, &faults)) {
    return face_refuse_all(call, NULL, &faults);
  }
  const Learner learner = who_plain(name, &choices);
  if (people_free_place(&person, name, &call->fault) ||
      people_make(&person, &learner, &call->fault)) {
    return NULL;
  }
  json_decref(done(page));
  return json_pack("{ss}", "id", person.id);
}

// Editing: each key of learner.cfg

typedef struct {
  Person  person;
  Learner learner;
} Edited;

static bool
is_of_learner(const Choice choice)
{
  return choice_row(choice)->places & CHOICE_PLACE_BIT(CHOICE_BY_LEARNER);
}

static Status
load(Edited* const edited, Faults* const faults)
{
  const Person* const person = &edited->person;
  Choices             choices;
  const Status        status = choices_load(&choices, faults);
  if (status) {
    return status;
  }
  edited->learner = who_plain(person->id, &choices);
  return access(person->settings, F_OK)
           ? STATUS_OK
           : learner_file_load(&edited->learner, person->settings, faults);
}

// May be left out, which is not the same as any value
static bool
may_be_out(const Choice choice)
{
  return choice == CHOICE_TEMPO || choice == CHOICE_RUNG;
}

static void
add_row(json_t* const     rows,
        json_t* const     values,
        const Row* const  row,
        const void* const base)
{
  char text[ROW_TEXT_CAPACITY] = "";
  (void)json_array_append_new(rows, state_row(row));
  (void)json_object_set_new(
    values, row->name, json_string(base ? row_text(row, base, text) : text));
}

static void
add_choice(json_t* const        rows,
           json_t* const        values,
           const Learner* const learner,
           const Choice         choice)
{
  const Choices* const choices = &learner->choices;
  const bool           is_out =
    may_be_out(choice) && choices_place(choices, choice) != CHOICE_BY_LEARNER;
  add_row(rows, values, &choice_row(choice)->row, is_out ? NULL : choices);
}

static void
add_goals(json_t* const        rows,
          json_t* const        values,
          const Learner* const learner)
{
  char   text[LEARNER_GOALS * (LEARNER_GOAL_CAPACITY + 2)] = "";
  size_t n                                                 = 0;
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    n += (size_t)snprintf(
      text + n, sizeof(text) - n, "%s%s", i ? "; " : "", learner->goals[i]);
  }
  (void)json_array_append_new(
    rows,
    json_pack("{ss ss ss}",
              "name",
              "goals",
              "type",
              "text",
              "help",
              "what is worked towards; up to 8, parted by ;"));
  (void)json_object_set_new(values, "goals", json_string(text));
}

json_t*
people_edit(Page* const page, WireCall* const call)
{
  Faults faults = {.n_faults = 0};
  Edited edited;
  (void)page;
  if (!people_of_call(call, &edited.person)) {
    return NULL;
  }
  if (load(&edited, &faults)) {
    return face_refuse_all(call, NULL, &faults);
  }
  json_t* const rows   = json_array();
  json_t* const values = json_object();
  for (unsigned i = 0; i < N_LEARNER_ROWS; ++i) {
    add_row(rows, values, learner_row(i), &edited.learner);
  }
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (is_of_learner((Choice)i)) {
      add_choice(rows, values, &edited.learner, (Choice)i);
    }
  }
  add_goals(rows, values, &edited.learner);
  (void)json_object_set_new(
    values,
    learner_row(LEARNER_ROW_TARGET)->name,
    json_sprintf("%.10g %%", 100.0 * edited.learner.target_rate));
  return json_pack(
    "{ss so so}", "id", edited.person.id, "rows", rows, "values", values);
}

// What is wrong is told at its field, where a path would say nothing
static void
forget_file(Faults* const faults)
{
  for (unsigned i = 0; i < faults->n_faults; ++i) {
    faults->faults[i].file[0] = '\0';
    faults->faults[i].line    = 0;
  }
}

// `task->path` is the whole change
static json_t*
make_set(Task* const task, const char* const folder)
{
  const char* change = task->path;
  (void)folder;
  if (learners_set(&task->who.person, &change, 1, &task->faults)) {
    forget_file(&task->faults);
    return NULL;
  }
  return json_object();
}

static void
is_changed(Page* const page, Task* const task)
{
  (void)task;
  face_tell_state(page, STATE_PEOPLE);
}

json_t*
people_set(Page* const page, WireCall* const call)
{
  const WireValue* const values = call->values;
  Person                 person;
  Task* const            task =
    people_of_call(call, &person) ? task_begin(page, call, make_set) : NULL;
  if (!task) {
    return NULL;
  }
  (void)snprintf(task->text, sizeof(task->text), "%s", values[1].text);
  if (snprintf(task->path,
               sizeof(task->path),
               "%s=%s",
               values[1].text,
               values[2].text) >= (int)sizeof(task->path)) {
    task_drop(task);
    return face_refuse(call, NULL, "this is too long");
  }
  task->who.person = person;
  task->done       = is_changed;
  call->field      = task->text; // It lives as long as the task
  return task_give(page, task, call);
}

// Looking them over

static json_t*
member_json(const ClassMember* const member)
{
  char day[DAY_TEXT_CAPACITY];
  return json_pack(
    "{ss ss ss ss? sb}",
    "id",
    member->id,
    "name",
    member->name,
    "look",
    member->look.text,
    "last",
    member->progress.days ? day_text(member->progress.last_day, day) : NULL,
    "is_known",
    (int)member->is_known);
}

static json_t*
make_class(Task* const task, const char* const folder)
{
  const ClassWish wish = {.order = (ClassOrder)task->number};
  json_t* const   list = json_array();
  Class           all;
  (void)folder;
  removal_look(today());
  if (class_read(&all, &wish, today(), &task->faults)) {
    json_decref(list);
    return NULL;
  }
  for (size_t i = 0; i < all.n; ++i) {
    (void)json_array_append_new(list, member_json(&all.members[i]));
  }
  class_free(&all);
  return json_pack("{so}", "list", list);
}

json_t*
people_class(Page* const page, WireCall* const call)
{
  static const char* const orders[] = {
    [CLASS_BY_ID] = "id", [CLASS_BY_LAST] = "last", [CLASS_BY_LOOK] = "look"};
  unsigned order = CLASS_BY_ID;
  while (order <= CLASS_BY_LOOK &&
         strcmp(orders[order], call->values[0].text) != 0) {
    ++order;
  }
  if (order > CLASS_BY_LOOK) {
    return face_refuse(call, "sort", "they are sorted by id, last or look");
  }
  Task* const task = task_begin(page, call, make_class);
  if (!task) {
    return NULL;
  }
  task->number = order;
  return task_give(page, task, call);
}
