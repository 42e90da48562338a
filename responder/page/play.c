#include "responder/page/play.h"

#include "core/time/monotonic.h"
#include "responder/page/hear.h"
#include "responder/page/keeping.h"
#include "responder/page/keys.h"
#include "responder/page/state.h"
#include "responder/page/staves.h"
#include "responder/page/tries.h"
#include "responder/page/warm_up.h"
#include "responder/page/welcome.h"
#include "responder/record/report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
  PLACE_NS  = 2000000000, ///< Between two times that the place is told
  BEHIND_MS = 50,         ///< So long a session waits for a key's message
};

#define CARE_NS (30 * 60 * NS_PER_S)

static void
tell_place(Page* const page, const unsigned client)
{
  const Tick    tick    = stage_now(page->playing.stage);
  json_t* const message = json_pack(
    "{ss sI sf sf sb}",
    "tell",
    "place",
    "tick",
    (json_int_t)tick,
    "at",
    (double)stage_moment_ns(page->playing.stage, tick) / (double)NS_PER_MS,
    "tempo",
    page->live.tempo_bpm,
    "running",
    (int)(page->is_begun && page->stands != FACE_PAUSED));
  page->placed_ns = monotonic_ns();
  if (client == FACE_NOBODY) {
    face_tell(page, message);
  } else {
    face_send(page, client, message);
  }
}

void
play_place(Page* const page, const unsigned client)
{
  if (page->is_begun) {
    tell_place(page, client);
  }
}

static void
stand(Page* const page, const FaceStands stands)
{
  if (page->stands != stands) {
    page->stands = stands;
    face_tell_state(page, STATE_SESSION);
  }
}

unsigned
play_ticks_behind(const double tempo_bpm)
{
  return (unsigned)lround(BEHIND_MS * tempo_bpm * TICKS_PER_QUARTER / 60000.0);
}

void
play_has_begun(Page* const page, const FaceLive live)
{
  json_decref(page->live.exercise);
  page->live           = live;
  page->live.tempo_bpm = live.session->tempo_bpm;
  page->is_begun       = true;
  page->is_asked       = false;
  page->looked_ns      = monotonic_ns();
  welcome_clear_turns(page);
  page->over   = state_form(live.session);
  page->stands = FACE_COUNT_IN;
  face_tell_state(page, STATE_SESSION | STATE_FORM);
  tell_place(page, FACE_NOBODY);
}

void
play_has_ended(Page* const page, const StageResult* const result)
{
  page->is_begun = false;
  tell_place(page, FACE_NOBODY);
  stand(page, FACE_OVER);
  face_tell_state(page, STATE_CHOICES | STATE_FORM | STATE_PEOPLE);
  page->ends = page->ends || result->end == STAGE_SIGNAL;
}

// Trading

static Status
begin(Page* const page, Faults* const faults)
{
  Trading* const trading = &page->trading;
  Fault          fault;
  hear_stop(page);
  trading->choices = page->next.choices;
  memset(&trading->setup, 0, sizeof(trading->setup));
  const Status status = setup_load(&trading->setup, &trading->choices, faults);
  if (status) {
    return status;
  }
  trading->choices.listens_behind =
    play_ticks_behind(trading->setup.choices.tempo_bpm);
  if (trading_begin(trading, &page->playing, &fault)) {
    return faults_note(faults, &fault);
  }
  play_has_begun(page,
                 (FaceLive){.kind    = FACE_TRADES,
                            .session = &trading->session.recorded.session,
                            .kept    = &trading->session});
  char opening[REMARK_CAPACITY];
  if (*session_opening(&trading->session.recorded.session, opening)) {
    face_say(page, "remark", opening);
  }
  return STATUS_OK;
}

static void
say_result(Page* const page, const StageResult* const result)
{
  char words[FAULT_TEXT_CAPACITY];
  if (result->n_lost) {
    (void)snprintf(words,
                   sizeof(words),
                   "%u keys or notes came too thick and were lost.",
                   result->n_lost);
    face_say(page, "trouble", words);
  }
  if (result->fault.status) {
    face_say(page, "trouble", fault_text(&result->fault, words, sizeof(words)));
  }
  if (page->live.kept && page->live.kept->kept.status) {
    face_say(page,
             "trouble",
             fault_text(&page->live.kept->kept, words, sizeof(words)));
  }
}

static void
finish(Page* const page, StageResult* const result)
{
  keeping_wait(page);
  if (page->live.kind == FACE_TRADES) {
    trading_end(&page->trading, &page->playing, result);
    page->next.choices.rung = page->trading.choices.rung;
  } else {
    playing_end(&page->playing, page->live.kept, result);
  }
  page->is_begun = false;
  who_look(&page->trading.who); // Their first session made them
  say_result(page, result);
}

static void
trade_on_after(Page* const page, const StageResult* const result)
{
  Faults faults = {.n_faults = 0};
  if (result->end == STAGE_GESTURE && result->gesture != GESTURE_STOP) {
    playing_obey(&page->next.choices, result->gesture);
    face_tell_state(page, STATE_CHOICES);
    if (!begin(page, &faults)) {
      return;
    }
    face_say(page, "trouble", faults.faults[0].text);
  }
  play_has_ended(page, result);
}

static void
go_on_after(Page* const page, const StageResult* const result)
{
  switch (page->live.kind) {
    case FACE_TRADES:
      trade_on_after(page, result);
      break;
    case FACE_WARMS_UP:
      warm_up_go_on(page, result);
      break;
    case FACE_TRIES:
      tries_go_on(page, result);
  }
}

static void
say_more(Page* const page, const TurnRecord* const record)
{
  if (record->asks[0]) {
    face_say(page, "remark", record->asks);
  }
  if (record->is_lost) {
    face_say(page, "remark", "The band plays roots until you are back.");
  }
  if (record->offers_longer) {
    face_say(page, "remark", "You have a lot to say: longer turns?");
  }
}

static void
tell_turn(Page* const page, const TurnRecord* const record)
{
  SessionOptions session = *page->live.session;
  json_t* const  turn    = report_turn(session.chart, record);
  session.tempo_bpm      = page->live.tempo_bpm;
  if (json_array_size(page->turns) == FACE_TURNS) {
    char index[16];
    (void)snprintf(index,
                   sizeof(index),
                   "%lld",
                   (long long)json_integer_value(
                     json_object_get(json_array_get(page->turns, 0), "index")));
    (void)json_object_del(page->staves, index);
    (void)json_array_remove(page->turns, 0);
  }
  (void)json_array_append(page->turns, turn);
  welcome_forget(page, STATE_TURNS);
  if (record->turn.by_player) { // First, for it waits for nothing to be drawn
    face_say(page, "remark", record->remark);
  }
  say_more(page, record);
  face_tell(page, json_pack("{ss so}", "tell", "turn", "turn", turn));
  if (page->live.kind == FACE_TRIES) {
    tries_hear(page->tries, record);
  }
  staves_give(page, &session, record);
}

// Time lies otherwise: as it was asked
static void
tell_laid(Page* const page, const StageNews* const news)
{
  const SessionChange* const change = &news->change;
  if (change->tempo_bpm > 0.0) {
    page->live.tempo_bpm = change->tempo_bpm;
  }
  page->is_asked = page->is_asked && !change_is_any(change);
  if (news->is_paused) {
    stand(page, FACE_PAUSED);
  } else if (page->stands == FACE_PAUSED) {
    stand(page, FACE_PLAYS);
  }
  tell_place(page, FACE_NOBODY);
}

static void
take_news(Page* const page)
{
  const StageNews* news = NULL;
  while ((news = playing_take_news(&page->playing, page->live.kept))) {
    if (news->is_turn) {
      tell_turn(page, &news->turn);
      keeping_give(page);
    } else if (news->is_time_change) {
      tell_laid(page, news);
    } else {
      face_say(page, "news", news->words);
    }
  }
}

static void
take_care(Page* const page)
{
  const int64_t now = monotonic_ns();
  page->played_ns += page->stands == FACE_PAUSED ? 0 : now - page->looked_ns;
  page->looked_ns = now;
  if (page->played_ns > CARE_NS) {
    page->played_ns = 0;
    face_say(page,
             "care",
             "Half an hour is played: let the hands rest for a while. Does "
             "anything hurt? Then stop for today.");
  }
}

static void
look_at_session(Page* const page)
{
  StageResult result  = {.end = STAGE_OVER};
  const bool  goes_on = playing_goes_on(&page->playing, &result);
  take_news(page);
  take_care(page);
  if (!goes_on) {
    finish(page, &result);
    go_on_after(page, &result);
    return;
  }
  if (page->stands == FACE_COUNT_IN && stage_now(page->playing.stage) >= 0) {
    stand(page, FACE_PLAYS);
  }
  if (monotonic_ns() - page->placed_ns > PLACE_NS) {
    tell_place(page, FACE_NOBODY);
  }
}

static void
look_between(Page* const page)
{
  MidiMessage message;
  while (stage_take(page->playing.stage, &message)) {
  }
  StageNews* const news = &page->playing.news;
  while (stage_take_news(page->playing.stage, news)) {
    if (!news->is_turn && !news->is_time_change) {
      face_say(page, "news", news->words);
    }
  }
}

void
play_end(Page* const page)
{
  StageResult result = {.end = STAGE_OVER};
  if (page->is_begun) {
    stage_gesture(page->playing.stage, GESTURE_STOP);
    (void)playing_goes_on(&page->playing, &result);
    take_news(page);
    finish(page, &result);
    stand(page, FACE_OVER);
  }
}

// Requests

static json_t*
begin_now(Page* const page, WireCall* const call)
{
  Faults faults = {.n_faults = 0};
  if (page->is_begun) {
    return face_refuse(call, NULL, "a session is being played already");
  }
  return begin(page, &faults) ? face_refuse_all(call, NULL, &faults)
                              : json_object();
}

// A page that was loaded again in the meantime waits for nothing
static bool
is_awaited(const Page* const page)
{
  const WireCall* const call = &page->early;
  return page->is_early && page->guests[call->client].came_ns == call->visit;
}

// The band is heard from the count-in on
static json_t*
begin_later(Page* const page, WireCall* const call)
{
  if (is_awaited(page)) {
    return face_refuse(call, NULL, "it begins when the sound is there");
  }
  call->is_later = true;
  page->is_early = true;
  page->early    = *call;
  face_say(page, "news", "The sound is being made ready; then it begins.");
  return NULL;
}

json_t*
play_begin(Page* const page, WireCall* const call)
{
  return stage_loads_sound(page->playing.stage) ? begin_later(page, call)
                                                : begin_now(page, call);
}

static void
look_at_early(Page* const page)
{
  WireCall* const call = &page->early;
  if (page->is_early && !stage_loads_sound(page->playing.stage)) {
    if (is_awaited(page)) {
      face_answer(page, call, begin_now(page, call));
    }
    page->is_early = false;
  }
}

void
play_look(Page* const page)
{
  keys_look(page);
  look_at_early(page);
  if (page->is_begun) {
    look_at_session(page);
  } else {
    look_between(page);
  }
}
