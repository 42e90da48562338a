#include "responder/page/play.h"

#include "core/midi_message.h"
#include "core/time/monotonic.h"
#include "profiles/choices/choices_file.h"
#include "responder/lesson/choosing.h"
#include "responder/page/hear.h"
#include "responder/page/staves.h"
#include "responder/record/report.h"

#include <stdio.h>
#include <string.h>

enum {
  PLACE_NS  = 2000000000, ///< Between two times that the place is told
  OLDEST_NS = 100000000,  ///< Of a key that was struck
};

#define CARE_NS (30 * 60 * NS_PER_S)

// What can be changed at once

enum { SWITCH_THRU, SWITCH_CLICK, SWITCH_CHORDS, SWITCH_BASS, SWITCH_DRUMS };

static const PlaySwitch switches[PLAY_SWITCHES] = {
  [SWITCH_THRU]   = {"thru", "sound your own keys too"},
  [SWITCH_CLICK]  = {"click", "click the beats of your turns"},
  [SWITCH_CHORDS] = {"layer.chords", "let the chords of the band sound"},
  [SWITCH_BASS]   = {"layer.bass", "let the bass sound"},
  [SWITCH_DRUMS]  = {"layer.drums", "let the drums sound"},
};

static const Part layers[PLAY_SWITCHES] = {
  [SWITCH_CHORDS] = PART_CHORDS,
  [SWITCH_BASS]   = PART_BASS,
  [SWITCH_DRUMS]  = PART_DRUMS,
};

const PlaySwitch*
play_switch(const unsigned index)
{
  return &switches[index];
}

bool
play_switch_is_on(const Page* const page, const unsigned index)
{
  const FaceSwitches* const is = &page->switches;
  return index == SWITCH_THRU    ? is->thru
         : index == SWITCH_CLICK ? is->click
                                 : is->layers[layers[index]];
}

static void
give_voices(Page* const page)
{
  const ChoiceSound* const sounds = page->next.choices.sounds;
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    stage_voice(page->playing.stage,
                part,
                sounds[part].program,
                page->switches.layers[part] ? sounds[part].level : 0);
  }
}

static void
turn_switch(Page* const page, const unsigned index, const bool on)
{
  if (index == SWITCH_THRU) {
    page->switches.thru = on;
    stage_thru(page->playing.stage, on);
  } else if (index == SWITCH_CLICK) {
    page->switches.click     = on;
    page->playing.wish.click = on;
    stage_clicks(page->playing.stage, on);
  } else {
    page->switches.layers[layers[index]] = on;
    give_voices(page);
  }
}

// What is chosen for the next session

static bool
is_sound(const Choice choice)
{
  return choice >= CHOICE_PARTNER_PROGRAM && choice <= CHOICE_DRUMS_LEVEL &&
         choice != CHOICE_DRUMS_PROGRAM;
}

bool
play_may_choose(const Choice choice)
{
  return is_sound(choice) ||
         (choice_row(choice)->places & CHOICE_PLACE_BIT(CHOICE_BY_ASKING) &&
          choice != CHOICE_MAKE_ROOM && choice != CHOICE_CONTROL);
}

Status
play_prepare(Page* const       page,
             const Who* const  who,
             const Said* const said,
             Faults* const     faults)
{
  const Choices choices = choose(who, said);
  memset(&page->trial, 0, sizeof(page->trial));
  const Status status = setup_load(&page->trial, &choices, faults);
  if (!status) {
    page->next = page->trial;
  }
  return status;
}

static Status
say(Said* const      said,
    const Choice     choice,
    const WireValue* value,
    Fault* const     fault)
{
  const Row* const row = &choice_row(choice)->row;
  if (row->kind == ROW_FLAG) {
    said->set |= CHOICE_BIT(choice);
    *(bool*)row_field(row, &said->values) = value->flag;
    return STATUS_OK;
  }
  return said_add(said, choice, row->name, value->text, fault);
}

// Who was eased by hand stays so, unless a rung is asked for
static void
keep_rung(Page* const page, const Rung rung, const Choice asked)
{
  if (asked != CHOICE_RUNG) {
    page->next.choices.rung = rung;
  }
}

static json_t*
choose_one(Page* const      page,
           WireCall* const  call,
           const Choice     choice,
           const WireValue* value)
{
  Said       said   = page->said;
  Faults     faults = {.n_faults = 0};
  const Rung rung   = page->next.choices.rung;
  call->field       = choice_row(choice)->row.name;
  if (!face_is_name(choice, value->text, &call->fault) ||
      say(&said, choice, value, &call->fault)) {
    return NULL;
  }
  if (play_prepare(page, &page->trading.who, &said, &faults)) {
    return face_refuse_all(call, call->field, &faults);
  }
  keep_rung(page, rung, choice);
  page->said = said;
  give_voices(page);
  face_tell_state(page, STATE_CHOICES | (page->is_begun ? 0U : STATE_FORM));
  return json_object();
}

json_t*
play_choose(Page* const page, WireCall* const call)
{
  const char* const      name  = call->values[0].text;
  const WireValue* const value = &call->values[1];
  for (unsigned i = 0; i < PLAY_SWITCHES; ++i) {
    if (strcmp(switches[i].name, name) == 0) {
      turn_switch(page, i, value->flag);
      face_tell_state(page, STATE_CHOICES);
      return json_object();
    }
  }
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (play_may_choose((Choice)i) &&
        strcmp(choice_row((Choice)i)->row.name, name) == 0) {
      return choose_one(page, call, (Choice)i, value);
    }
  }
  return face_refuse(call, "name", "nothing called %.40s can be chosen", name);
}

// The session

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
    page->trading.session.recorded.session.tempo_bpm,
    "running",
    (int)page->is_begun);
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
  if (trading_begin(trading, &page->playing, &fault)) {
    return faults_note(faults, &fault);
  }
  ++page->n_begun;
  page->is_begun  = true;
  page->looked_ns = monotonic_ns();
  (void)json_array_clear(page->turns);
  (void)json_object_clear(page->staves);
  stand(page, FACE_COUNT_IN);
  face_tell_state(page, STATE_FORM);
  char opening[REMARK_CAPACITY];
  if (*session_opening(&trading->session.recorded.session, opening)) {
    face_say(page, "remark", opening);
  }
  tell_place(page, FACE_NOBODY);
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
    face_say(page, "news", words);
  }
  if (result->fault.status) {
    face_say(page, "news", fault_text(&result->fault, words, sizeof(words)));
  }
  if (page->trading.session.kept.status) {
    face_say(page,
             "news",
             fault_text(&page->trading.session.kept, words, sizeof(words)));
  }
}

static void
finish(Page* const page, StageResult* const result)
{
  trading_end(&page->trading, &page->playing, result);
  page->is_begun          = false;
  page->next.choices.rung = page->trading.choices.rung;
  say_result(page, result);
}

static void
go_on_after(Page* const page, const StageResult* const result)
{
  Faults faults = {.n_faults = 0};
  if (result->end == STAGE_GESTURE && result->gesture != GESTURE_STOP) {
    playing_obey(&page->next.choices, result->gesture);
    face_tell_state(page, STATE_CHOICES);
    if (!begin(page, &faults)) {
      return;
    }
    face_say(page, "news", faults.faults[0].text);
  }
  tell_place(page, FACE_NOBODY);
  stand(page, FACE_OVER);
  face_tell_state(page, STATE_CHOICES | STATE_FORM | STATE_PEOPLE);
  page->ends = page->ends || result->end == STAGE_SIGNAL;
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
  const SessionOptions* const session = &page->trading.session.recorded.session;
  json_t* const               turn    = report_turn(session->chart, record);
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
  face_tell(page, json_pack("{ss so}", "tell", "turn", "turn", turn));
  if (record->turn.by_player) {
    face_say(page, "remark", record->remark);
  }
  say_more(page, record);
  staves_give(page, session, record);
}

static void
take_news(Page* const page)
{
  const StageNews* news = NULL;
  while ((news = playing_take_news(&page->playing, &page->trading.session))) {
    if (news->is_turn) {
      tell_turn(page, &news->turn);
    } else {
      face_say(page, "news", news->words);
    }
  }
}

static void
take_care(Page* const page)
{
  const int64_t now = monotonic_ns();
  page->played_ns += now - page->looked_ns;
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
  if (stage_now(page->playing.stage) >= 0) {
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
    if (!news->is_turn) {
      face_say(page, "news", news->words);
    }
  }
}

void
play_look(Page* const page)
{
  if (page->is_begun) {
    look_at_session(page);
  } else {
    look_between(page);
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

// Keys

void
play_key(Page* const page, const WireMessage* const key)
{
  const int64_t now     = monotonic_ns();
  const double  at_ns   = key->at_ms * (double)NS_PER_MS;
  const double  oldest  = (double)(now - OLDEST_NS);
  MidiMessage   message = {
      .time_ns = at_ns < oldest        ? now - OLDEST_NS
                 : at_ns > (double)now ? now
                                       : (int64_t)at_ns,
      .size    = 3,
      .bytes   = {key->what == WIRE_ON ? MIDI_NOTE_ON : MIDI_NOTE_OFF,
                key->pitch,
              key->what == WIRE_ON ? key->velocity : 0},
  };
  if (key->what != WIRE_NONE) {
    page->held[key->pitch] = key->what == WIRE_ON;
    stage_key(page->playing.stage, &message);
    return;
  }
  for (unsigned pitch = 0; pitch < FACE_PITCHES; ++pitch) {
    if (page->held[pitch]) {
      page->held[pitch] = false;
      message.bytes[1]  = (uint8_t)pitch;
      stage_key(page->playing.stage, &message);
    }
  }
}

void
play_release(Page* const page)
{
  const WireMessage none = {
    .what = WIRE_NONE, .at_ms = (double)monotonic_ns() / (double)NS_PER_MS};
  play_key(page, &none);
}

// Requests

json_t*
play_begin(Page* const page, WireCall* const call)
{
  Faults faults = {.n_faults = 0};
  if (page->is_begun) {
    return face_refuse(call, NULL, "a session is being played already");
  }
  return begin(page, &faults) ? face_refuse_all(call, NULL, &faults)
                              : json_object();
}

static json_t*
gesture(Page* const page, WireCall* const call, const Gesture which)
{
  if (page->is_begun) {
    stage_gesture(page->playing.stage, which);
    return json_object();
  }
  if (which == GESTURE_STOP) {
    return face_refuse(call, NULL, "nothing is being played");
  }
  if (which == GESTURE_AGAIN) {
    return play_begin(page, call);
  }
  playing_obey(&page->next.choices, which);
  face_tell_state(page, STATE_CHOICES | STATE_FORM);
  return json_object();
}

json_t*
play_stop(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_STOP);
}

json_t*
play_again(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_AGAIN);
}

json_t*
play_slower(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_SLOWER);
}

json_t*
play_faster(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_FASTER);
}

json_t*
play_easier(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_EASIER);
}

json_t*
play_harder(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_HARDER);
}

static Status
find_who(const char* const id, Who* const who, Faults* const faults)
{
  Choices      choices;
  const Status status = choices_load(&choices, faults);
  return status ? status : who_find(who, id, &choices, faults);
}

json_t*
play_who(Page* const page, WireCall* const call)
{
  Faults faults = {.n_faults = 0};
  Who    who;
  if (page->is_begun) {
    return face_refuse(call, "id", "stop first; then another can play");
  }
  if (find_who(call->values[0].text, &who, &faults) ||
      play_prepare(page, &who, &page->said, &faults)) {
    return face_refuse_all(call, "id", &faults);
  }
  page->trading.who         = who;
  page->trading.is_practice = who.has_place;
  page->stands              = FACE_IDLE;
  give_voices(page);
  face_tell_state(page,
                  STATE_PEOPLE | STATE_CHOICES | STATE_FORM | STATE_SESSION);
  return json_object();
}
