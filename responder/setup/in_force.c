#include "responder/setup/in_force.h"

#include <jansson.h>
#include <stdio.h>

bool
in_force_is_told(const Choice choice)
{
  return choice != CHOICE_RUNG && choice != CHOICE_DRUMS_PROGRAM;
}

const char*
in_force_text(const Setup* const setup,
              const Choice       choice,
              char               text[ROW_TEXT_CAPACITY])
{
  if (choice == CHOICE_KEY) { // The tonic alone does not say which key it is
    char key[KEY_TEXT_CAPACITY];
    (void)snprintf(
      text, ROW_TEXT_CAPACITY, "%s", key_text(setup->chart.chart.key, key));
  } else {
    (void)row_text(&choice_row(choice)->row, &setup->choices, text);
  }
  if (!text[0]) {
    (void)snprintf(text, ROW_TEXT_CAPACITY, "none");
  }
  return text;
}

json_t*
in_force_value(const Setup* const setup, const Choice choice)
{
  const Row* const row = &choice_row(choice)->row;
  char             text[ROW_TEXT_CAPACITY];
  switch (row->kind) {
    case ROW_FLAG:
      return json_boolean(row_number(row, &setup->choices) > 0.0);
    case ROW_COUNT:
    case ROW_BYTE:
      return json_integer((json_int_t)row_number(row, &setup->choices));
    case ROW_NUMBER:
      return json_real(row_number(row, &setup->choices));
    case ROW_LONG:
      return json_integer((json_int_t)setup->choices.seed);
    case ROW_EITHER:
    case ROW_WORD:
    case ROW_PITCH:
    case ROW_PROGRAM:
    case ROW_TEXT:
    case ROW_LINK:
    case ROW_OWN:
      break;
  }
  return json_string(in_force_text(setup, choice, text));
}

// What else a value might be
static void
add_range(json_t* const object, const Row* const row)
{
  if (row->words) {
    json_t* const words = json_array();
    for (unsigned i = 0; row->words[i]; ++i) {
      (void)json_array_append_new(words, json_string(row->words[i]));
    }
    (void)json_object_set_new(object, "words", words);
  } else if (row->kind == ROW_COUNT || row->kind == ROW_BYTE ||
             row->kind == ROW_NUMBER) {
    (void)json_object_set_new(object, "least", json_real(row->least));
    (void)json_object_set_new(object, "most", json_real(row->most));
  }
}

static json_t*
object_of(const Setup* const setup, const Choice choice)
{
  const Row* const   row    = &choice_row(choice)->row;
  const ChoiceSource source = setup->choices.from[choice];
  json_t* const      object = json_pack("{s:s, s:o, s:s, s:s}",
                                   "name",
                                   row->name,
                                   "value",
                                   in_force_value(setup, choice),
                                   "from",
                                   choice_place_name((ChoicePlace)source.place),
                                   "help",
                                   row->help);
  if (object && source.line) {
    (void)json_object_set_new(object, "line", json_integer(source.line));
  }
  if (object && row->unit) {
    (void)json_object_set_new(object, "unit", json_string(row->unit));
  }
  if (object) {
    add_range(object, row);
  }
  return object;
}

char*
in_force_report(const Setup* const setup, const char* const learner)
{
  json_t* const choices = json_array();
  json_t* const root    = json_pack("{s:s, s:i, s:s?, s:o}",
                                 "format",
                                 "barter-settings",
                                 "version",
                                 1,
                                 "learner",
                                 learner,
                                 "choices",
                                 choices);
  for (unsigned i = 0; root && i < N_CHOICES; ++i) {
    if (in_force_is_told((Choice)i)) {
      (void)json_array_append_new(choices, object_of(setup, (Choice)i));
    }
  }
  char* const text =
    root ? json_dumps(root, JSON_INDENT(1) | JSON_REAL_PRECISION(9)) : NULL;
  json_decref(root);
  return text;
}
