#include "profiles/exchange/exchange.h"

#include "core/files/file.h"
#include "core/settings/settings.h"
#include "core/settings/utf8.h"
#include "profiles/exchange/stamp.h"
#include "profiles/learner/learner_file.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/// Writing under way.
typedef struct {
  FILE*  stream;
  size_t n_sessions;
  size_t n_turns;
} Writing;

// JSON: each function gives back a value, or NULL if memory has run out

/// Return a list with one value more; NULL if either is.
static json_t*
with(json_t* const list, json_t* const value)
{
  if (json_array_append_new(list, value)) {
    json_decref(list);
    return NULL;
  }
  return list;
}

static json_t*
id_value(const JournalId id)
{
  char text[JOURNAL_ID_TEXT];
  return json_string(journal_id_text(id, text));
}

static json_t*
field_value(const JournalField* const field, const void* const record)
{
  if (field->kind == JOURNAL_TEXT) {
    return json_string(journal_field_text(field, record));
  }
  const int64_t number = journal_field_number(field, record);
  return field->may_be_none && number == JOURNAL_NONE ? json_null()
                                                      : json_integer(number);
}

static json_t*
columns_value(const JournalFields fields, const bool has_id)
{
  json_t* list = json_array();
  if (has_id) {
    list = with(list, json_string("id"));
  }
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    list = with(list, json_string(fields.fields[i].name));
  }
  return list;
}

// Lines

/// Write a value, which is released.
static Status
put_line(FILE* const stream, json_t* const value)
{
  if (!value) {
    return STATUS_MEMORY;
  }
  // A failure marks the stream, which is looked at in the end
  (void)json_dumpf(value, stream, JSON_COMPACT);
  (void)fputc('\n', stream);
  json_decref(value);
  return STATUS_OK;
}

/// Whether the texts of a record are lines.
static bool
has_good_texts(const JournalFields fields, const void* const record)
{
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    if (field->kind == JOURNAL_TEXT &&
        !utf8_is_line(journal_field_text(field, record))) {
      return false;
    }
  }
  return true;
}

/// Write the fields of a record, behind its ID and under a name if it has them.
static Status
put_record(FILE* const         stream,
           const char* const   name,
           const JournalId*    id,
           const JournalFields fields,
           const void* const   record)
{
  if (!has_good_texts(fields, record)) {
    return STATUS_SYNTAX;
  }
  json_t* list = json_array();
  if (id) {
    list = with(list, id_value(*id));
  }
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    list = with(list, field_value(&fields.fields[i], record));
  }
  return put_line(stream, name ? json_pack("{s:o}", name, list) : list);
}

static Status
put_session(void* const context, const JournalSession* const session)
{
  Writing* const writing = context;
  ++writing->n_sessions;
  return put_record(writing->stream,
                    "session",
                    &session->id,
                    journal_session_fields(),
                    session);
}

static Status
put_turn(void* const context, const JournalTurn* const turn)
{
  Writing* const writing = context;
  ++writing->n_turns;
  return put_record(writing->stream, NULL, NULL, journal_turn_fields(), turn);
}

static Status
put_ideas(FILE* const stream, const JournalIdeas* const ideas)
{
  Status status = STATUS_OK;
  for (size_t i = 0; i < ideas->n_ideas && !status; ++i) {
    const JournalIdea* const idea = &ideas->ideas[i];
    status = put_record(stream, "idea", &idea->id, journal_idea_fields(), idea);
  }
  return status;
}

// The head

/// Load the text of settings, NULL if there are none that can be read.
static char*
load_settings(const Person* const person)
{
  Fault   fault;
  Faults  faults  = {.n_faults = 0};
  Learner learner = learner_plain(person->id);
  char*   text    = NULL;
  size_t  size    = 0;
  if (learner_file_load(&learner, person->settings, &faults) ||
      file_load(person->settings, SETTINGS_SIZE_MAX, &text, &size, &fault)) {
    return NULL;
  }
  if (strlen(text) != size || utf8_valid(text, size) != size) {
    free(text);
    return NULL;
  }
  return text;
}

static json_t*
settings_value(const Person* const person)
{
  char* const text = load_settings(person);
  if (!text) {
    return json_null();
  }
  json_t* const value = json_pack("{s:I,s:s}",
                                  "changed_us",
                                  (json_int_t)stamp_of(person->settings),
                                  "text",
                                  text);
  free(text);
  return value;
}

static Status
put_head(FILE* const         stream,
         const Person* const person,
         Journal* const      journal,
         Fault* const        fault)
{
  JournalId*   ids    = NULL;
  size_t       n_ids  = 0;
  const Status status = journal_persons(journal, &ids, &n_ids, fault);
  if (status) {
    return status;
  }
  json_t* persons = json_array();
  for (size_t i = 0; i < n_ids; ++i) {
    persons = with(persons, id_value(ids[i]));
  }
  free(ids);
  return put_line(stream,
                  json_pack("{s:s,s:i,s:s,s:o,s:o,s:o,s:o,s:o}",
                            "format",
                            "barter-learner",
                            "version",
                            1,
                            "learner",
                            person->id,
                            "persons",
                            persons,
                            "settings",
                            settings_value(person),
                            "session_columns",
                            columns_value(journal_session_fields(), true),
                            "turn_columns",
                            columns_value(journal_turn_fields(), false),
                            "idea_columns",
                            columns_value(journal_idea_fields(), true)));
}

static Status
put_end(FILE* const               stream,
        const Writing* const      writing,
        const JournalIdeas* const ideas)
{
  return put_line(stream,
                  json_pack("{s:{s:I,s:I,s:I}}",
                            "end",
                            "sessions",
                            (json_int_t)writing->n_sessions,
                            "turns",
                            (json_int_t)writing->n_turns,
                            "ideas",
                            (json_int_t)ideas->n_ideas));
}

/// Write what the journal holds, and the notebook.
static Status
write_all(FILE* const               stream,
          const Person* const       person,
          Journal* const            journal,
          const JournalIdeas* const ideas,
          Fault* const              fault)
{
  Writing             writing = {.stream = stream};
  const JournalReader reader  = {put_session, put_turn, &writing};
  fault->status               = STATUS_OK;
  Status status               = put_head(stream, person, journal, fault);
  if (!status) {
    status = journal_read(journal, &reader, fault);
  }
  if (!status) {
    status = put_ideas(stream, ideas);
  }
  if (!status) {
    status = put_end(stream, &writing, ideas);
  }
  if (!status || fault->status) {
    return status;
  }
  return status == STATUS_SYNTAX
           ? fault_in(fault,
                      status,
                      person->journal,
                      "the journal holds a text that is no line of UTF-8")
           : fault_memory(fault, person->journal);
}

static Status
write_journal(FILE* const         stream,
              const Person* const person,
              Journal* const      journal,
              Fault* const        fault)
{
  JournalIdeas ideas;
  Status       status = journal_name_person(journal, fault);
  if (status || (status = journal_all_ideas(journal, &ideas, fault))) {
    return status;
  }
  status = write_all(stream, person, journal, &ideas, fault);
  journal_ideas_free(&ideas);
  return status;
}

Status
exchange_write(FILE* const         stream,
               const Person* const person,
               Fault* const        fault)
{
  Journal* journal = NULL;
  Status   status =
    journal_open(&journal, person->journal, JOURNAL_MAY_CREATE, fault);
  if (!status) {
    status = write_journal(stream, person, journal, fault);
    journal_close(journal);
  }
  if (!status && ferror(stream)) {
    status = file_fault(fault, NULL, "the export could not be written");
  }
  return status;
}
