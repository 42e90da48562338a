#include "responder/page/ideas.h"

#include "profiles/choices/choices_file.h"
#include "responder/lesson/kept.h"
#include "responder/page/hear.h"
#include "responder/page/look_back.h"
#include "responder/page/staves.h"
#include "responder/page/task.h"
#include "responder/page/tries.h"

#include <stdlib.h>
#include <string.h>

enum {
  WANTED    = 8,
  FROM_LAST = 0,
  FROM_NEW  = 1,
  FROM_KEPT = 2,
  FROM_TURN = 3,
  N_FROM    = 4,
};

static const char* const from_words[N_FROM] = {"last", "new", "kept", "turn"};

// On the worker's thread

json_t*
ideas_staff(const Desk* const   desk,
            const Phrase* const phrase,
            const bool          by_player)
{
  const SessionOptions session = setup_session(&desk->setup);
  const Turn           turn    = {.index     = 1,
                                  .by_player = by_player,
                                  .start     = phrase->start_tick,
                                  .end       = phrase->end_tick};
  return staves_engrave(&session, turn, phrase);
}

static json_t*
way_of(const Desk* const desk, const unsigned index)
{
  const Answer* const answer = &desk->found.ways[index].answer;
  return json_pack("{si ss ss ss so*}",
                   "number",
                   (int)index + 1,
                   "move",
                   move_name(answer->move),
                   "why",
                   answer->why,
                   "practise",
                   desk_practise(desk, index),
                   "staff",
                   ideas_staff(desk, &answer->heard, false));
}

// Over its own chart and in its own key
static Status
begin_with_kept(Task* const task)
{
  JournalIdeas ideas  = {.n_ideas = 0};
  Choices      own    = task->choices;
  Status       status = STATUS_OK;
  Fault        fault;
  if (kept_load(&ideas, &task->who, &fault)) {
    return faults_note(&task->faults, &fault);
  }
  if (task->number < 1 || task->number > ideas.n_ideas) {
    status = faults_add(&task->faults,
                        STATUS_RANGE,
                        NULL,
                        0,
                        "the notebook has no idea %u",
                        task->number);
  } else {
    kept_own(&own, &ideas.ideas[task->number - 1]);
    status = desk_kept(task->desk,
                       &own,
                       &ideas,
                       task->number,
                       (OpeningSpan){0, 0},
                       &task->faults);
  }
  journal_ideas_free(&ideas);
  return status;
}

static Status
begin(Task* const task)
{
  const OpeningSpan any = {0, 0};
  switch ((unsigned)task->amount) {
    case FROM_LAST:
      return desk_last(
        task->desk, &task->choices, &task->who, any, &task->faults);
    case FROM_NEW:
      return desk_suggest(task->desk, &task->choices, any, &task->faults);
    case FROM_KEPT:
      return begin_with_kept(task);
    default:
      return STATUS_OK; // The phrase lies there already
  }
}

static json_t*
make_ideas(Task* const task, const char* const folder)
{
  Desk* const   desk = task->desk;
  json_t* const list = json_array();
  (void)folder;
  if (begin(task)) {
    json_decref(list);
    return NULL;
  }
  desk_develop(desk, task->count);
  for (unsigned i = 0; i < desk->found.n; ++i) {
    (void)json_array_append_new(list, way_of(desk, i));
  }
  return json_pack("{ss so* so}",
                   "words",
                   desk->opening.words,
                   "staff",
                   ideas_staff(desk, &desk->opening.phrase, true),
                   "ideas",
                   list);
}

// On the server's

static void
take_desk(Page* const page, Task* const task)
{
  tries_forget(page); // They are of the one before
  free(page->ideas);
  json_decref(page->told);
  page->ideas = task->desk;
  page->told  = json_incref(json_object_get(task->made, "ideas"));
  task->desk  = NULL;
}

static bool
lay_turn(const Page* const page, Desk* const desk, WireCall* const call)
{
  // As look_back_turn() has them: the name, then the turn
  const WireValue   values[] = {call->values[1], call->values[2]};
  WireCall          about    = *call;
  const TurnRecord* record   = NULL;
  about.values               = values;
  if (!values[0].is_there || !values[1].is_there ||
      !(record = look_back_turn(page, &about)) || !record->phrase.n_notes) {
    (void)face_refuse(call, "turn", "there is no such phrase to begin with");
    return false;
  }
  desk->setup          = page->recall->setup;
  desk->opening.phrase = record->phrase;
  (void)snprintf(desk->opening.words,
                 sizeof(desk->opening.words),
                 "Turn %u of the session",
                 record->turn.index);
  return true;
}

// On another rung than the learner's, where one is asked for
static bool
take_rung(Task* const task, WireCall* const call)
{
  const WireValue* const value = &call->values[4];
  Said                   said  = {.set = 0};
  if (value->is_there) {
    call->field = "rung";
    if (said_add(&said, CHOICE_RUNG, "rung", value->text, &call->fault)) {
      return false;
    }
    task->choices.rung = said.values.rung;
  }
  return true;
}

json_t*
ideas_develop(Page* const page, WireCall* const call)
{
  unsigned from = 0;
  while (from < N_FROM && strcmp(from_words[from], call->values[0].text)) {
    ++from;
  }
  if (from == N_FROM) {
    return face_refuse(call, "from", "begin from last, new, kept or turn");
  }
  Task* const task = task_begin(page, call, make_ideas);
  if (!task) {
    return NULL;
  }
  task->done   = take_desk;
  task->amount = from;
  task->number = (unsigned)call->values[3].number;
  task->count =
    call->values[5].is_there ? (unsigned)call->values[5].number : WANTED;
  task->desk = calloc(1, sizeof(*task->desk));
  if (!task->desk || !take_rung(task, call) ||
      (from == FROM_TURN && !lay_turn(page, task->desk, call))) {
    task_drop(task);
    return NULL;
  }
  return task_give(page, task, call);
}

static const Development*
way_at(const Page* const page, WireCall* const call)
{
  const unsigned number = (unsigned)call->values[0].number;
  if (!page->ideas || number > page->ideas->found.n) {
    (void)face_refuse(call, "number", "there is no idea %u", number);
    return NULL;
  }
  return &page->ideas->found.ways[number - 1];
}

static json_t*
make_kept(Task* const task, const char* const folder)
{
  const Answer* const answer = &task->desk->found.ways[task->number - 1].answer;
  size_t              number = 0;
  bool                is_new = false;
  Fault               fault;
  (void)folder;
  return kept_add(
           &task->who, &task->desk->setup, answer, &number, &is_new, &fault)
           ? task_fail(task, &fault)
           : task_kept(number, is_new);
}

json_t*
ideas_keep(Page* const page, WireCall* const call)
{
  if (!way_at(page, call)) {
    return NULL;
  }
  if (!page->trading.who.has_place) {
    return face_refuse(call, NULL, "nobody is chosen whose notebook it is");
  }
  Task* const task = task_begin(page, call, make_kept);
  if (!task) {
    return NULL;
  }
  task->desk = malloc(sizeof(*task->desk));
  if (!task->desk) {
    task_drop(task);
    return face_refuse(call, NULL, "%s", status_text(STATUS_MEMORY));
  }
  *task->desk  = *page->ideas; // Another may lie there by then
  task->number = (unsigned)call->values[0].number;
  task->done   = task_look_again;
  return task_give(page, task, call);
}

json_t*
ideas_hear(Page* const page, WireCall* const call)
{
  const Development* const way = way_at(page, call);
  if (!way) {
    return NULL;
  }
  if (page->is_begun) {
    return face_refuse(call, NULL, "a session is being played; stop it first");
  }
  hear_notes(page,
             way->answer.notes,
             way->answer.n_notes,
             page->ideas->setup.choices.tempo_bpm);
  return json_object();
}
