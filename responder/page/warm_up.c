#include "responder/page/warm_up.h"

#include "responder/lesson/choosing.h"
#include "responder/lesson/drills.h"
#include "responder/lesson/today.h"
#include "responder/lesson/warmup_plan.h"
#include "responder/lesson/warmup_play.h"
#include "responder/page/hear.h"
#include "responder/page/play.h"
#include "responder/page/staves.h"
#include "responder/page/task.h"

#include <math.h>
#include <stdlib.h>

struct WarmUp {
  Setup          setup;
  Warmup         plan;
  json_t*        items; ///< As they were told
  unsigned       index; ///< Of the exercise that is played, or was last
  Drills         drills;
  Setup          trading;
  PlayingSession session; ///< Of trading
};

typedef struct {
  const Setup*      setup;
  const WarmupItem* item;
} Round;

static Status
write_round(void* const            context,
            const AbcLayout* const layout,
            AbcPlaces* const       places,
            char** const           abc,
            size_t* const          size)
{
  const Round* const round = context;
  return warmup_abc(round->item, round->setup, layout, places, abc, size);
}

// The first round of one exercise; NULL if it could not be engraved
static json_t*
staff_of(const Setup* const      setup,
         const WarmupItem* const item,
         const unsigned          n_notes)
{
  Round             round = {setup, item};
  const StavesMusic music = {
    .n_bars    = item->bars,
    .n_notes   = n_notes,
    .n_in_half = (n_notes + 1) / 2, // They go on as they begin
    .write     = write_round,
    .context   = &round,
  };
  return item->trades ? NULL : staves_picture(&music);
}

// Return how many notes it has
static unsigned
describe(const Setup* const      setup,
         const WarmupItem* const item,
         char                    words[WARMUP_WORDS_CAPACITY])
{
  DrillRoom room = warmup_room(setup);
  Rng       rng  = rng_seed(item->seed, 1);
  Drill     drill;
  words[0]    = '\0';
  room.rhythm = item->rhythm;
  if (item->trades) {
    return 0;
  }
  drill_make(&drill, item->kind, &room, 0, &rng);
  (void)warmup_drill_text(item, setup, &drill, words);
  return drill.n_notes;
}

static json_t*
item_of(const Setup* const      setup,
        const WarmupItem* const item,
        const unsigned          number)
{
  char           name[WARMUP_NAME_CAPACITY];
  char           words[WARMUP_WORDS_CAPACITY];
  const unsigned n_notes = describe(setup, item, words);
  return json_pack("{si ss ss sf so*}",
                   "number",
                   (int)number,
                   "name",
                   warmup_item_name(item, name),
                   "words",
                   words,
                   "minutes",
                   round(item->seconds / 6.0) / 10.0,
                   "staff",
                   staff_of(setup, item, n_notes));
}

static json_t*
lay(Task* const task, WarmUp* const warm_up)
{
  const Who* const who     = &task->who;
  Setup* const     setup   = &warm_up->setup;
  Choices          choices = choose(who, &task->said);
  choose_climb(&choices, who);
  choices.choruses = 1;
  if (setup_load(setup, &choices, &task->faults)) {
    return NULL;
  }
  warm_up->plan  = warmup_plan(setup,
                              who->has_place ? who->person.id : PEOPLE_USUAL_ID,
                              today(),
                              task->amount);
  warm_up->items = json_array();
  for (unsigned i = 0; i < warm_up->plan.n_items; ++i) {
    (void)json_array_append_new(warm_up->items,
                                item_of(setup, &warm_up->plan.items[i], i + 1));
  }
  return json_pack("{sf sO}",
                   "minutes",
                   round(warm_up->plan.seconds / 6.0) / 10.0,
                   "items",
                   warm_up->items);
}

static json_t*
make_plan(Task* const task, const char* const folder)
{
  task->warm_up = calloc(1, sizeof(*task->warm_up));
  (void)folder;
  return task->warm_up ? lay(task, task->warm_up) : NULL;
}

// On the server's thread

void
warm_up_free(WarmUp* const warm_up)
{
  if (warm_up) {
    json_decref(warm_up->items);
    free(warm_up);
  }
}

static bool
is_played(const Page* const page)
{
  return page->is_begun && page->live.kind == FACE_WARMS_UP;
}

static void
take_plan(Page* const page, Task* const task)
{
  if (is_played(page)) { // It was begun meanwhile
    play_end(page);
  }
  if (page->warm_up && page->live.kept == &page->warm_up->session) {
    page->live.kept = NULL;
  }
  warm_up_free(page->warm_up);
  page->warm_up = task->warm_up;
  task->warm_up = NULL;
}

json_t*
warm_up_plan(Page* const page, WireCall* const call)
{
  if (is_played(page)) {
    return face_refuse(call, NULL, "a warm-up is being played; stop it first");
  }
  Task* const task = task_begin(page, call, make_plan);
  if (!task) {
    return NULL;
  }
  task->amount = call->values[0].number;
  task->done   = take_plan;
  return task_give(page, task, call);
}

// Live

static json_t*
exercise_of(const WarmUp* const warm_up)
{
  json_t* const exercise =
    json_copy(json_array_get(warm_up->items, warm_up->index));
  (void)json_object_set_new(
    exercise, "of", json_integer((json_int_t)warm_up->plan.n_items));
  return exercise;
}

static Status
begin_rounds(Page* const page, Fault* const fault)
{
  WarmUp* const         warm_up = page->warm_up;
  SessionOptions* const session = &warm_up->drills.session;
  session->listens_behind       = play_ticks_behind(session->tempo_bpm);
  const Status status = playing_begin_drill(&page->playing, session, fault);
  if (!status) {
    play_has_begun(page,
                   (FaceLive){.kind     = FACE_WARMS_UP,
                              .session  = session,
                              .exercise = exercise_of(warm_up)});
  }
  return status;
}

static Status
begin_trading(Page* const page, Fault* const fault)
{
  WarmUp* const         warm_up = page->warm_up;
  PlayingSession* const session = &warm_up->session;
  Who* const            who     = &page->trading.who;
  drills_trading(
    &warm_up->trading, &warm_up->setup, &warm_up->plan.items[warm_up->index]);
  warm_up->trading.choices.listens_behind =
    play_ticks_behind(warm_up->setup.choices.tempo_bpm);
  who_look(who); // What was traded before may have changed it
  const Status status = playing_begin(&page->playing,
                                      session,
                                      &warm_up->trading,
                                      "warmup",
                                      who->has_place ? who : NULL,
                                      fault);
  if (!status) {
    play_has_begun(page,
                   (FaceLive){.kind     = FACE_WARMS_UP,
                              .session  = &session->recorded.session,
                              .kept     = session,
                              .exercise = exercise_of(warm_up)});
  }
  return status;
}

static Status
begin_item(Page* const page, Fault* const fault)
{
  WarmUp* const           warm_up = page->warm_up;
  const WarmupItem* const item    = &warm_up->plan.items[warm_up->index];
  if (item->trades) {
    return begin_trading(page, fault);
  }
  drills_begin(&warm_up->drills, &warm_up->setup, item);
  (void)drills_next(&warm_up->drills);
  return begin_rounds(page, fault);
}

void
warm_up_go_on(Page* const page, const StageResult* const result)
{
  WarmUp* const  warm_up = page->warm_up;
  const unsigned n       = warm_up->plan.n_items;
  const bool     rounds  = result->end == STAGE_OVER && !page->live.kept &&
                      drills_next(&warm_up->drills);
  Fault fault = {.status = STATUS_OK};
  if (!rounds) {
    warm_up->index = playing_next(warm_up->index, n, result);
  }
  if (warm_up->index < n &&
      !(rounds ? begin_rounds(page, &fault) : begin_item(page, &fault))) {
    return;
  }
  face_say(page, "news", fault.status ? fault.text : "That was the warm-up.");
  play_has_ended(page, result);
}

void
warm_up_tempo(Page* const page, const double tempo_bpm)
{
  page->warm_up->setup.choices.tempo_bpm = tempo_bpm;
}

json_t*
warm_up_begin(Page* const page, WireCall* const call)
{
  const WireValue* const number  = &call->values[0];
  WarmUp* const          warm_up = page->warm_up;
  if (page->is_begun) {
    return face_refuse(call, NULL, "something is being played; stop it first");
  }
  if (!warm_up) {
    return face_refuse(call, NULL, "ask for a plan first");
  }
  if (number->is_there && number->number > warm_up->plan.n_items) {
    return face_refuse(
      call, "number", "the plan has %u exercises", warm_up->plan.n_items);
  }
  hear_stop(page);
  warm_up->index = number->is_there ? (unsigned)number->number - 1 : 0;
  return begin_item(page, &call->fault) ? NULL : json_object();
}

// Of what comes after the present exercise, half the rounds
json_t*
warm_up_shorter(Page* const page, WireCall* const call)
{
  WarmUp* const warm_up = page->warm_up;
  if (!is_played(page)) {
    return face_refuse(call, NULL, "no warm-up is being played");
  }
  for (unsigned i = warm_up->index + 1; i < warm_up->plan.n_items; ++i) {
    unsigned* const rounds = &warm_up->plan.items[i].rounds;
    *rounds                = (*rounds + 1) / 2;
  }
  face_say(page, "news", "What is left takes half as long.");
  return json_object();
}
