#include "profiles/exchange/inside.h"

#include "core/files/file.h"
#include "core/settings/utf8.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/// Settings of the greatest size, all escaped.
enum { LINE_CAPACITY = 1024 * 1024 };

// Lines

/// Read the next line into the reading; its length is 0 at the end of the file.
static Status
next_line(Reading* const reading)
{
  int byte = 0;
  ++reading->line;
  reading->length = 0;
  while ((byte = getc_unlocked(reading->stream)) != EOF && byte != '\n') {
    if (reading->length == LINE_CAPACITY) {
      return fault_set(reading->fault,
                       STATUS_FULL,
                       reading->name,
                       reading->line,
                       "the line is too long for a learner's export");
    }
    reading->text[reading->length++] = (char)byte;
  }
  if (ferror(reading->stream)) {
    return file_fault(reading->fault, reading->name, "cannot be read");
  }
  return STATUS_OK;
}

static json_t*
parse_line(const Reading* const reading)
{
  json_error_t  error;
  json_t* const value =
    json_loadb(reading->text, reading->length, JSON_REJECT_DUPLICATES, &error);
  if (!value && reading->line == 1) { // Of another kind of file altogether
    (void)reading_wrong(reading,
                        "is no line of a learner's export, as barter learner "
                        "export writes them");
  } else if (!value) {
    (void)reading_wrong(
      reading, "is no line of a learner's export: %.120s", error.text);
  }
  return value;
}

// Records

static Status
take_text(const Reading* const      reading,
          const JournalField* const field,
          void* const               record,
          const json_t* const       value)
{
  const char* const text = json_string_value(value);
  if (!text || strlen(text) != json_string_length(value) ||
      !utf8_is_line(text)) {
    return reading_wrong(
      reading, "%s is to be a text of one line", field->name);
  }
  return journal_field_copy(field, record, text)
           ? STATUS_OK
           : reading_wrong(reading,
                           "%s is longer than %" PRId64 " bytes",
                           field->name,
                           field->most - 1);
}

static Status
take_number(const Reading* const      reading,
            const JournalField* const field,
            void* const               record,
            const json_t* const       value)
{
  const int64_t number =
    json_is_null(value) ? JOURNAL_NONE : json_integer_value(value);
  if ((!json_is_null(value) && !json_is_integer(value)) ||
      !journal_field_allows(field, number)) {
    return reading_wrong(reading,
                         "%s is to be a whole number, %" PRId64 " to %" PRId64
                         "%s",
                         field->name,
                         field->least,
                         field->most,
                         field->may_be_none ? ", or null" : "");
  }
  journal_field_set(field, record, number);
  return STATUS_OK;
}

/// Take the fields of a record from a list, `first` values on.
static Status
take_fields(const Reading* const reading,
            const JournalFields  fields,
            void* const          record,
            const json_t* const  list,
            const unsigned       first)
{
  if (!json_is_array(list) ||
      json_array_size(list) != fields.n_fields + first) {
    return reading_wrong(reading,
                         "is to be a list of %u values, one for each column",
                         fields.n_fields + first);
  }
  Status status = STATUS_OK;
  for (unsigned i = 0; !status && i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    const json_t* const       value = json_array_get(list, i + first);
    status                          = field->kind == JOURNAL_TEXT
                                        ? take_text(reading, field, record, value)
                                        : take_number(reading, field, record, value);
  }
  return status;
}

static Status
take_session(Reading* const reading, const json_t* const list)
{
  JournalSession session = {.day = 0};
  Status         status =
    take_fields(reading, journal_session_fields(), &session, list, 1);
  if (!status) {
    status = reading_id(reading, &session.id, json_array_get(list, 0));
  }
  ++reading->n_sessions;
  return status || !reading->reader->session
           ? status
           : reading->reader->session(
               reading->reader->context, &session, reading->fault);
}

static Status
take_turn(Reading* const reading, const json_t* const list)
{
  JournalTurn turn = {.number = 0};
  if (!reading->n_sessions) {
    return reading_wrong(reading, "a turn stands before the first session");
  }
  const Status status =
    take_fields(reading, journal_turn_fields(), &turn, list, 0);
  ++reading->n_turns;
  return status || !reading->reader->turn
           ? status
           : reading->reader->turn(
               reading->reader->context, &turn, reading->fault);
}

static Status
take_idea(Reading* const reading, const json_t* const list)
{
  JournalIdea idea = {.kept_ms = 0};
  Status status = take_fields(reading, journal_idea_fields(), &idea, list, 1);
  if (!status) {
    status = reading_id(reading, &idea.id, json_array_get(list, 0));
  }
  if (!status && !idea.is_removed &&
      !journal_id_equals(idea.id, journal_idea_id(&idea))) {
    status =
      reading_wrong(reading, "the ID of an idea is not that of its notes");
  }
  ++reading->n_ideas;
  return status || !reading->reader->idea
           ? status
           : reading->reader->idea(
               reading->reader->context, &idea, reading->fault);
}

static Status
take_end(Reading* const reading, json_t* const end)
{
  json_int_t n_sessions = -1;
  json_int_t n_turns    = -1;
  json_int_t n_ideas    = -1;
  const int  failed     = json_unpack(end,
                                 "{sI sI sI !}",
                                 "sessions",
                                 &n_sessions,
                                 "turns",
                                 &n_turns,
                                 "ideas",
                                 &n_ideas);
  if (failed || n_sessions != (json_int_t)reading->n_sessions ||
      n_turns != (json_int_t)reading->n_turns ||
      n_ideas != (json_int_t)reading->n_ideas) {
    return reading_wrong(
      reading,
      "the end does not count what came before: %zu sessions, %zu "
      "turns, %zu ideas",
      reading->n_sessions,
      reading->n_turns,
      reading->n_ideas);
  }
  reading->has_ended = true;
  return STATUS_OK;
}

static Status
take_line(Reading* const reading, const json_t* const value)
{
  if (json_is_array(value)) {
    return take_turn(reading, value);
  }
  json_t* const session = json_object_get(value, "session");
  json_t* const end     = json_object_get(value, "end");
  json_t* const idea    = json_object_get(value, "idea");
  if (json_object_size(value) != 1 || (!session && !end && !idea)) {
    return reading_wrong(
      reading, "is neither a session, nor a turn, nor an idea, nor the end");
  }
  if (idea) {
    return take_idea(reading, idea);
  }
  return session ? take_session(reading, session) : take_end(reading, end);
}

static Status
read_head(Reading* const reading)
{
  ExchangeHead head   = {.n_persons = 0};
  Status       status = next_line(reading);
  if (status) {
    return status;
  }
  json_t* const value = parse_line(reading);
  status = value ? reading_head(reading, &head, value) : STATUS_SYNTAX;
  json_decref(value);
  if (!status && reading->reader->head) {
    status =
      reading->reader->head(reading->reader->context, &head, reading->fault);
  }
  exchange_head_free(&head);
  return status;
}

// All of it

static Status
read_rest(Reading* const reading)
{
  Status status = STATUS_OK;
  while (!status && !reading->has_ended) {
    status = next_line(reading);
    if (status) {
      break;
    }
    if (!reading->length && feof(reading->stream)) {
      return reading_wrong(reading,
                           "the export is cut short: its end is missing");
    }
    json_t* const value = parse_line(reading);
    status              = value ? take_line(reading, value) : STATUS_SYNTAX;
    json_decref(value);
  }
  if (!status && (status = next_line(reading)) == STATUS_OK &&
      (reading->length || !feof(reading->stream))) {
    return reading_wrong(reading, "something stands behind the end");
  }
  return status;
}

Status
exchange_read(FILE* const                 stream,
              const char* const           name,
              const ExchangeReader* const reader,
              Fault* const                fault)
{
  Reading reading = {
    .stream = stream,
    .reader = reader,
    .fault  = fault,
    .name   = name,
    .text   = malloc(LINE_CAPACITY),
  };
  if (!reading.text) {
    return fault_memory(fault, NULL);
  }
  Status status = read_head(&reading);
  if (!status && !reader->head_only) {
    status = read_rest(&reading);
  }
  free(reading.text);
  return status;
}
