#include "responder/page/state.h"

#include "core/settings/gm.h"
#include "core/settings/places.h"
#include "profiles/learner/learner_file.h"
#include "profiles/learner/people.h"
#include "responder/page/choosing.h"
#include "responder/setup/in_force.h"

#include <stdio.h>
#include <string.h>

// Who

static json_t*
me_of(const Page* const page, const unsigned client)
{
  int n_others = 0;
  for (unsigned i = 0; i < SERVER_CLIENTS; ++i) {
    n_others += page->guests[i].is_open && i != page->player;
  }
  return json_pack(
    "{sb si}", "plays", (int)(client == page->player), "watchers", n_others);
}

// By the name to show, if the settings can be read
static json_t*
person_of(const char* const id)
{
  Learner learner = learner_plain(id);
  Faults  ignored = {.n_faults = 0};
  Person  person;
  Fault   fault;
  if (people_find(&person, id, &fault) ||
      learner_file_load(&learner, person.settings, &ignored)) {
    learner = learner_plain(id);
  }
  return json_pack("{ss ss}", "id", id, "name", learner.name);
}

static json_t*
people_of(const Page* const page)
{
  const Who* const who  = &page->trading.who;
  json_t* const    list = json_array();
  PeopleList       people;
  Fault            fault;
  if (!people_list(&people, &fault)) {
    for (size_t i = 0; i < people.n_ids; ++i) {
      (void)json_array_append_new(list, person_of(people.ids[i]));
    }
    people_list_free(&people);
  }
  return json_pack(
    "{ss? so}", "chosen", who->has_place ? who->person.id : NULL, "list", list);
}

// What can be chosen

static const char*
type_of(const Row* const row)
{
  if (row->words) {
    return "words";
  }
  switch (row->kind) {
    case ROW_FLAG:
      return "flag";
    case ROW_COUNT:
    case ROW_BYTE:
    case ROW_LONG:
      return "whole";
    case ROW_NUMBER:
      return "number";
    case ROW_PITCH:
      return "pitch";
    case ROW_PROGRAM:
      return "sound";
    case ROW_EITHER:
    case ROW_WORD:
    case ROW_TEXT:
    case ROW_LINK:
    case ROW_OWN:
      break;
  }
  return "text";
}

static json_t*
words_of(const char* const* words)
{
  json_t* const list = json_array();
  for (; *words; ++words) {
    (void)json_array_append_new(list, json_string(*words));
  }
  return list;
}

static json_t*
places_of(const PlaceKind kind)
{
  json_t* const list = json_array();
  PlaceList     places;
  if (!place_list(kind, &places)) {
    for (size_t i = 0; i < places.n_entries; ++i) {
      (void)json_array_append_new(list, json_string(places.entries[i].name));
    }
    place_list_free(&places);
  }
  return list;
}

static json_t*
sounds_of(void)
{
  json_t* const list = json_array();
  for (unsigned i = 0; i < GM_N_PROGRAMS; ++i) {
    (void)json_array_append_new(list, json_string(gm_program_name(i)));
  }
  return list;
}

static json_t*
among_of(const Choice choice)
{
  static const char* const keys[] = {"C",
                                     "Db",
                                     "D",
                                     "Eb",
                                     "E",
                                     "F",
                                     "F#",
                                     "Gb",
                                     "G",
                                     "Ab",
                                     "A",
                                     "Bb",
                                     "B",
                                     NULL};
  return choice == CHOICE_CHART                        ? places_of(PLACE_CHARTS)
         : choice == CHOICE_FEEL                       ? places_of(PLACE_FEELS)
         : choice == CHOICE_KEY                        ? words_of(keys)
         : choice_row(choice)->row.kind == ROW_PROGRAM ? sounds_of()
                                                       : NULL;
}

static bool
has_range(const Row* const row)
{
  return row->kind == ROW_COUNT || row->kind == ROW_BYTE ||
         row->kind == ROW_NUMBER;
}

json_t*
state_row(const Row* const row)
{
  json_t* const object = json_pack("{ss ss ss? ss?}",
                                   "name",
                                   row->name,
                                   "type",
                                   type_of(row),
                                   "help",
                                   row->help,
                                   "unit",
                                   row->unit);
  if (row->words) {
    (void)json_object_set_new(object, "words", words_of(row->words));
  } else if (has_range(row)) {
    (void)json_object_set_new(object, "least", json_real(row->least));
    (void)json_object_set_new(object, "most", json_real(row->most));
  }
  return object;
}

static json_t*
row_of(const Choice choice)
{
  const bool is_now =
    choice >= CHOICE_PARTNER_PROGRAM && choice <= CHOICE_DRUMS_LEVEL;
  json_t* const object = state_row(&choice_row(choice)->row);
  json_t* const among  = among_of(choice);
  (void)json_object_set_new(
    object, "when", json_string(is_now ? "now" : "next"));
  if (among) {
    (void)json_object_set_new(object, "among", among);
  }
  return object;
}

static json_t*
table_of(void)
{
  json_t* const list = json_array();
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (choosing_may((Choice)i)) {
      (void)json_array_append_new(list, row_of((Choice)i));
    }
  }
  for (unsigned i = 0; i < PAGE_SWITCHES; ++i) {
    const PageSwitch* const is = choosing_switch(i);
    (void)json_array_append_new(list,
                                json_pack("{ss ss ss ss}",
                                          "name",
                                          is->name,
                                          "type",
                                          "flag",
                                          "help",
                                          is->help,
                                          "when",
                                          "now"));
  }
  return list;
}

// As a person would choose it: a key by its tonic, a rung as a whole
static json_t*
value_of(const Setup* const setup, const Choice choice)
{
  char text[ROW_TEXT_CAPACITY];
  return choice == CHOICE_KEY
           ? json_string(spelling_text(setup->chart.chart.key.tonic, text))
         : choice == CHOICE_RUNG
           ? json_string(
               row_text(&choice_row(choice)->row, &setup->choices, text))
           : in_force_value(setup, choice);
}

static json_t*
choices_of(const Page* const page)
{
  json_t* const      all   = json_object();
  const Setup* const setup = &page->next;
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const Choice     choice = (Choice)i;
    const Row* const row    = &choice_row(choice)->row;
    char             from[CHOICES_FROM_CAPACITY];
    if (choosing_may(choice)) {
      const ChoicePlace place = choices_place(&setup->choices, choice);
      (void)json_object_set_new(
        all,
        row->name,
        json_pack("{so ss}",
                  "value",
                  value_of(setup, choice),
                  "source",
                  place == CHOICE_BY_ASKING
                    ? "asked"
                    : choices_from(&setup->choices, choice, from)));
    }
  }
  for (unsigned i = 0; i < PAGE_SWITCHES; ++i) {
    (void)json_object_set_new(
      all,
      choosing_switch(i)->name,
      json_pack(
        "{sb ss}", "value", (int)choosing_is_on(page, i), "source", "asked"));
  }
  return all;
}

// The session

// Where it is recorded
static const char*
name_of(const FaceLive* const live)
{
  const char* const path  = live->kept ? live->kept->path : "";
  const char* const slash = strrchr(path, '/');
  return !path[0] ? NULL : slash ? slash + 1 : path;
}

static json_t*
session_of(const Page* const page)
{
  static const char* const stands[] = {
    [FACE_IDLE]     = "idle",
    [FACE_COUNT_IN] = "count-in",
    [FACE_PLAYS]    = "plays",
    [FACE_PAUSED]   = "paused",
    [FACE_OVER]     = "over",
  };
  static const char* const kinds[] = {
    [FACE_TRADES]   = "trade",
    [FACE_WARMS_UP] = "warm-up",
    [FACE_TRIES]    = "idea",
  };
  const FaceLive* const live    = &page->live;
  const Summary* const  summary = live->kept ? &live->kept->summary : NULL;
  json_t* const         object =
    json_pack("{ss ss? ss sO*}",
              "stands",
              stands[page->stands],
              "name",
              page->stands == FACE_IDLE ? NULL : name_of(live),
              "kind",
              kinds[live->kind],
              "exercise",
              page->is_begun ? live->exercise : NULL);
  if (page->stands == FACE_OVER && summary && summary->n_turns) {
    const SummaryWords words = summary_words(summary);
    (void)json_object_update_new(object,
                                 json_pack("{s[ss] ss ss}",
                                           "worked",
                                           words.worked[0],
                                           words.worked[1],
                                           "work_on",
                                           words.work_on,
                                           "next_time",
                                           words.next_time));
  }
  return object;
}

static json_t*
care_of(void)
{
  return json_pack("{ss}",
                   "text",
                   "Take breaks, and let the hands rest. Stop at pain; if it "
                   "stays, see a doctor or a therapist who treats musicians. "
                   "Keep the level moderate, with headphones above all.");
}

json_t*
state_of(const Page* const page, const unsigned client, const unsigned parts)
{
  const SessionOptions session = face_session(page);
  json_t* const        state   = json_object();
  json_t* const        over    = parts & STATE_TURNS ? page->over : NULL;
  const struct {
    const char* name;
    json_t*     value;
  } members[] = {
    {"me", parts & STATE_ME ? me_of(page, client) : NULL},
    {"people", parts & STATE_PEOPLE ? people_of(page) : NULL},
    {"table", parts & STATE_TABLE ? table_of() : NULL},
    {"choices", parts & STATE_CHOICES ? choices_of(page) : NULL},
    {"form", parts & STATE_FORM ? state_form(&session) : json_incref(over)},
    {"tones", parts & STATE_FORM ? state_tones(session.chart) : NULL},
    {"session", parts & STATE_SESSION ? session_of(page) : NULL},
    {"sound",
     parts & STATE_SOUND
       ? json_pack(
           "{sb ss}", "works", (int)page->has_sound, "text", page->sound)
       : NULL},
    {"keyboard",
     parts & STATE_KEYBOARD ? json_pack("{ss}", "text", page->keyboard) : NULL},
    {"care", parts & STATE_CARE ? care_of() : NULL},
    {"turns", parts & STATE_TURNS ? json_incref(page->turns) : NULL},
    {"staves", parts & STATE_TURNS ? json_incref(page->staves) : NULL},
  };
  for (unsigned i = 0; i < sizeof(members) / sizeof(*members); ++i) {
    if (members[i].value) {
      (void)json_object_set_new(state, members[i].name, members[i].value);
    }
  }
  return state;
}
