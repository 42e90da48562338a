#include "responder/page/ideas.h"

#include "responder/lesson/kept.h"
#include "responder/page/hear.h"
#include "responder/page/look_back.h"
#include "responder/page/staves.h"
#include "responder/page/task.h"
#include "responder/page/tries.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
  WANTED      = 8,
  FROM_LAST   = 0,
  FROM_NEW    = 1,
  FROM_KEPT   = 2,
  FROM_TURN   = 3,
  N_FROM      = 4,
  NOTES_SHOWN = 24, ///< Of the notebook
};

static const char* const from_words[N_FROM] = {"last", "new", "kept", "turn"};

// On the worker's thread

static json_t*
staff_of(const Desk* const   desk,
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
                   desk_practise(desk, answer->move),
                   "staff",
                   staff_of(desk, &answer->heard, false));
}

static Status
begin_with_kept(Task* const task)
{
  JournalIdeas ideas = {.n_ideas = 0};
  Fault        fault;
  if (kept_load(&ideas, &task->who, &fault)) {
    return faults_note(&task->faults, &fault);
  }
  const size_t number = task->number;
  const Status status = number < 1 || number > ideas.n_ideas
                          ? faults_add(&task->faults,
                                       STATUS_RANGE,
                                       NULL,
                                       0,
                                       "the notebook has no idea %zu",
                                       number)
                          : desk_kept(task->desk,
                                      &task->choices,
                                      &ideas,
                                      number,
                                      (OpeningSpan){0, 0},
                                      &task->faults);
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
  desk_develop(desk, WANTED);
  for (unsigned i = 0; i < desk->found.n; ++i) {
    (void)json_array_append_new(list, way_of(desk, i));
  }
  return json_pack("{ss so* so}",
                   "words",
                   desk->opening.words,
                   "staff",
                   staff_of(desk, &desk->opening.phrase, true),
                   "ideas",
                   list);
}

// On the server's

static void
take_desk(Page* const page, Task* const task)
{
  tries_forget(page); // They are of the one before
  free(page->ideas);
  page->ideas = task->desk;
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
  task->desk   = calloc(1, sizeof(*task->desk));
  if (!task->desk || (from == FROM_TURN && !lay_turn(page, task->desk, call))) {
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

json_t*
ideas_keep(Page* const page, WireCall* const call)
{
  const Development* const way    = way_at(page, call);
  size_t                   number = 0;
  bool                     is_new = false;
  if (!way) {
    return NULL;
  }
  if (!page->trading.who.has_place) {
    return face_refuse(call, NULL, "nobody is chosen whose notebook it is");
  }
  if (kept_add(&page->trading.who,
               &page->ideas->setup,
               &way->answer,
               &number,
               &is_new,
               &call->fault)) {
    return NULL;
  }
  who_look(&page->trading.who);
  return json_pack(
    "{sI sb}", "number", (json_int_t)number, "is_new", (int)is_new);
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

// The notebook

static json_t*
kept_json(Desk* const desk, const JournalIdea* const kept, const size_t number)
{
  const time_t seconds  = (time_t)(kept->kept_ms / 1000);
  struct tm    local    = {0};
  char         when[32] = "";
  char         name[96];
  (void)localtime_r(&seconds, &local);
  (void)strftime(when, sizeof(when), "%Y-%m-%d", &local);
  (void)snprintf(name, sizeof(name), "%.40s, %.40s", kept->origin, kept->chart);
  const bool is_laid = desk_lay_kept(desk, kept, (OpeningSpan){0, 0});
  return json_pack("{sI ss ss so*}",
                   "number",
                   (json_int_t)number,
                   "name",
                   name,
                   "when",
                   when,
                   "staff",
                   is_laid ? staff_of(desk, &desk->opening.phrase, true)
                           : NULL);
}

static json_t*
make_notebook(Task* const task, const char* const folder)
{
  JournalIdeas ideas = {.n_ideas = 0};
  Fault        fault;
  (void)folder;
  if (setup_load(&task->desk->setup, &task->choices, &task->faults)) {
    return NULL;
  }
  if (kept_load(&ideas, &task->who, &fault)) {
    return task_fail(task, &fault);
  }
  json_t* const list = json_array();
  const size_t  n    = ideas.n_ideas;
  for (size_t i = n; i > 0 && n - i < NOTES_SHOWN; --i) { // The latest first
    (void)json_array_append_new(list,
                                kept_json(task->desk, &ideas.ideas[i - 1], i));
  }
  journal_ideas_free(&ideas);
  return json_pack("{so}", "ideas", list);
}

json_t*
ideas_notebook(Page* const page, WireCall* const call)
{
  Task* const task = task_begin(page, call, make_notebook);
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
