#include "responder/page/wire.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const double wire_most = 9007199254740991.0; // Of a whole double

static Status
refuse(Fault* const fault, const Status status, const char* const words)
{
  return fault_say(fault, status, "%s", words);
}

// Keys

static bool
take_whole(const json_t* const root,
           const char* const   name,
           const json_int_t    least,
           const json_int_t    most,
           uint8_t* const      value)
{
  const json_t* const found = json_object_get(root, name);
  if (!json_is_integer(found) || json_integer_value(found) < least ||
      json_integer_value(found) > most) {
    return false;
  }
  *value = (uint8_t)json_integer_value(found);
  return true;
}

static Status
read_key(const json_t* const root,
         const char* const   play,
         WireMessage* const  message,
         Fault* const        fault)
{
  static const char* const words[] = {
    [WIRE_ON] = "on", [WIRE_OFF] = "off", [WIRE_NONE] = "none"};
  const json_t* const at = json_object_get(root, "at");
  for (WireWhat what = WIRE_ON; what <= WIRE_NONE; ++what) {
    message->what = strcmp(play, words[what]) == 0 ? what : message->what;
  }
  message->at_ms    = json_number_value(at);
  message->velocity = 64;
  const bool is_right =
    message->what == WIRE_NONE ||
    (message->what != WIRE_REQUEST && json_is_number(at) &&
     isfinite(message->at_ms) &&
     take_whole(root, "pitch", 0, 127, &message->pitch) &&
     (message->what == WIRE_OFF ||
      take_whole(root, "velocity", 1, 127, &message->velocity)));
  return is_right ? STATUS_OK
                  : refuse(fault,
                           STATUS_SYNTAX,
                           "a key is on, off or none, with pitch 0..127, "
                           "velocity 1..127 and the moment it was struck");
}

// Requests

static bool
read_any(const json_t* const value, WireValue* const into)
{
  const size_t size = sizeof(into->own);
  into->text        = into->own;
  if (json_is_boolean(value)) {
    into->flag = json_is_true(value);
    (void)snprintf(into->own, size, "%s", into->flag ? "true" : "false");
  } else if (json_is_number(value)) {
    into->number = json_number_value(value);
    (void)snprintf(into->own, size, "%.15g", into->number);
  } else if (json_is_string(value)) {
    into->text = json_string_value(value);
    into->flag = strcmp(into->text, "true") == 0;
    return json_string_length(value) < size;
  } else {
    return false;
  }
  return true;
}

static bool
read_value(const WireField* const field,
           const json_t* const    value,
           WireValue* const       into)
{
  into->is_there = true;
  switch (field->kind) {
    case WIRE_TEXT:
      into->text = json_string_value(value);
      return into->text && json_string_length(value) <= (size_t)field->most;
    case WIRE_WHOLE:
    case WIRE_NUMBER:
      into->number = json_number_value(value);
      return (field->kind == WIRE_WHOLE ? json_is_integer(value)
                                        : json_is_number(value)) &&
             into->number >= field->least && into->number <= field->most;
    case WIRE_FLAG:
      into->flag = json_is_true(value);
      return json_is_boolean(value);
    case WIRE_ANY:
      return read_any(value, into);
  }
  return false;
}

static Status
say_field(const WireField* const field, Fault* const fault)
{
  if (field->kind == WIRE_WHOLE || field->kind == WIRE_NUMBER) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "%s is a %snumber from %.15g to %.15g",
                     field->name,
                     field->kind == WIRE_WHOLE ? "whole " : "",
                     field->least,
                     field->most);
  }
  return fault_say(fault,
                   STATUS_RANGE,
                   field->kind == WIRE_TEXT ? "%s is a text of %g bytes at most"
                   : field->kind == WIRE_FLAG ? "%s is true or false"
                                              : "%s is a text or a number",
                   field->name,
                   field->most);
}

// A field that nobody knows is a slip, or another version
static const char*
unknown_field(const WireRow* const row, json_t* const root)
{
  for (void* at = json_object_iter(root); at;
       at       = json_object_iter_next(root, at)) {
    const char* const key   = json_object_iter_key(at);
    bool              known = strcmp(key, "n") == 0 || strcmp(key, "ask") == 0;
    for (unsigned i = 0; row->fields[i].name; ++i) {
      known = known || strcmp(key, row->fields[i].name) == 0;
    }
    if (!known) {
      return key;
    }
  }
  return NULL;
}

static Status
read_fields(const WireRow* const row,
            json_t* const        root,
            WireMessage* const   message,
            const char** const   which,
            Fault* const         fault)
{
  const char* const strange = unknown_field(row, root);
  if (strange) {
    return fault_say(
      fault, STATUS_RANGE, "%s has no field %.40s", row->ask, strange);
  }
  for (unsigned i = 0; row->fields[i].name; ++i) {
    const WireField* const field = &row->fields[i];
    const json_t* const    value = json_object_get(root, field->name);
    if ((!value || json_is_null(value)) && field->may_lack) {
      continue;
    }
    if (!value || !read_value(field, value, &message->values[i])) {
      *which = field->name;
      return say_field(field, fault);
    }
  }
  return STATUS_OK;
}

static Status
read_request(const WireRow* const rows,
             const unsigned       n_rows,
             json_t* const        root,
             WireMessage* const   message,
             const char** const   field,
             Fault* const         fault)
{
  const json_t* const n   = json_object_get(root, "n");
  const char* const   ask = json_string_value(json_object_get(root, "ask"));
  if (!json_is_integer(n) || json_integer_value(n) < 0 ||
      (double)json_integer_value(n) > wire_most || !ask) {
    return refuse(
      fault, STATUS_SYNTAX, "a message is a request with n and ask, or a key");
  }
  message->what = WIRE_REQUEST;
  message->n    = json_integer_value(n);
  for (unsigned i = 0; i < n_rows; ++i) {
    if (strcmp(rows[i].ask, ask) == 0) {
      message->row = i;
      return read_fields(&rows[i], root, message, field, fault);
    }
  }
  return fault_say(fault, STATUS_RANGE, "nothing is called %.40s here", ask);
}

Status
wire_read(const WireRow* const rows,
          const unsigned       n_rows,
          const char* const    text,
          const size_t         size,
          WireMessage* const   message,
          const char** const   field,
          Fault* const         fault)
{
  json_error_t error;
  memset(message, 0, sizeof(*message));
  *field        = NULL;
  message->root = json_loadb(text, size, JSON_REJECT_DUPLICATES, &error);
  if (!json_is_object(message->root)) {
    return refuse(fault, STATUS_SYNTAX, "a message is one object of JSON");
  }
  const json_t* const play = json_object_get(message->root, "play");
  return play && json_is_string(play)
           ? read_key(message->root, json_string_value(play), message, fault)
           : read_request(rows, n_rows, message->root, message, field, fault);
}

void
wire_free(WireMessage* const message)
{
  json_decref(message->root);
  message->root = NULL;
}
