#include "responder/page/choosing.h"

#include "profiles/choices/choices_file.h"
#include "responder/lesson/choosing.h"
#include "responder/page/welcome.h"

#include <string.h>

// What can be changed at once

enum { SWITCH_THRU, SWITCH_CLICK, SWITCH_CHORDS, SWITCH_BASS, SWITCH_DRUMS };

static const PageSwitch switches[PAGE_SWITCHES] = {
  [SWITCH_THRU]   = {"thru", "sound your own keys too"},
  [SWITCH_CLICK]  = {"click", "click the beats of your turns"},
  [SWITCH_CHORDS] = {"layer.chords", "let the chords of the band sound"},
  [SWITCH_BASS]   = {"layer.bass", "let the bass sound"},
  [SWITCH_DRUMS]  = {"layer.drums", "let the drums sound"},
};

static const Part layers[PAGE_SWITCHES] = {
  [SWITCH_CHORDS] = PART_CHORDS,
  [SWITCH_BASS]   = PART_BASS,
  [SWITCH_DRUMS]  = PART_DRUMS,
};

const PageSwitch*
choosing_switch(const unsigned index)
{
  return &switches[index];
}

bool
choosing_is_on(const Page* const page, const unsigned index)
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
choosing_may(const Choice choice)
{
  return is_sound(choice) ||
         (choice_row(choice)->places & CHOICE_PLACE_BIT(CHOICE_BY_ASKING) &&
          choice != CHOICE_MAKE_ROOM && choice != CHOICE_CONTROL);
}

Status
choosing_prepare(Page* const       page,
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

// Who was eased or slowed by hand stays so, unless it is asked for; another
// chart has a tempo of its own
static void
keep_by_hand(Page* const page, const Choices* const before, const Choice asked)
{
  if (asked != CHOICE_RUNG) {
    page->next.choices.rung = before->rung;
  }
  if (asked == CHOICE_TEMPO || asked == CHOICE_CHART) {
    page->has_own_tempo = false;
  } else if (page->has_own_tempo) {
    page->next.choices.tempo_bpm = before->tempo_bpm;
  }
}

static json_t*
choose_one(Page* const      page,
           WireCall* const  call,
           const Choice     choice,
           const WireValue* value)
{
  const Choices before = page->next.choices;
  Said          said   = page->said;
  Faults        faults = {.n_faults = 0};
  call->field          = choice_row(choice)->row.name;
  if (!face_is_name(choice, value->text, &call->fault) ||
      say(&said, choice, value, &call->fault)) {
    return NULL;
  }
  if (choosing_prepare(page, &page->trading.who, &said, &faults)) {
    return face_refuse_all(call, call->field, &faults);
  }
  keep_by_hand(page, &before, choice);
  page->said = said;
  give_voices(page);
  face_tell_state(page, STATE_CHOICES | (page->is_begun ? 0U : STATE_FORM));
  return json_object();
}

json_t*
choosing_choose(Page* const page, WireCall* const call)
{
  const char* const      name  = call->values[0].text;
  const WireValue* const value = &call->values[1];
  for (unsigned i = 0; i < PAGE_SWITCHES; ++i) {
    if (strcmp(switches[i].name, name) == 0) {
      turn_switch(page, i, value->flag);
      face_tell_state(page, STATE_CHOICES);
      return json_object();
    }
  }
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (choosing_may((Choice)i) &&
        strcmp(choice_row((Choice)i)->row.name, name) == 0) {
      return choose_one(page, call, (Choice)i, value);
    }
  }
  return face_refuse(call, "name", "nothing called %.40s can be chosen", name);
}

// Who plays

static Status
find_who(const char* const id, Who* const who, Faults* const faults)
{
  Choices      choices;
  const Status status = choices_load(&choices, faults);
  return status ? status : who_find(who, id, &choices, faults);
}

json_t*
choosing_who(Page* const page, WireCall* const call)
{
  Faults faults = {.n_faults = 0};
  Who    who;
  if (page->is_begun) {
    return face_refuse(call, "id", "stop first; then another can play");
  }
  if (find_who(call->values[0].text, &who, &faults) ||
      choosing_prepare(page, &who, &page->said, &faults)) {
    return face_refuse_all(call, "id", &faults);
  }
  if (strcmp(who.person.id, page->trading.who.person.id) != 0) {
    welcome_clear_turns(page);
  }
  page->trading.who         = who;
  page->trading.is_practice = who.has_place;
  page->stands              = FACE_IDLE;
  give_voices(page);
  face_tell_state(page,
                  STATE_PEOPLE | STATE_CHOICES | STATE_FORM | STATE_SESSION);
  return json_object();
}
