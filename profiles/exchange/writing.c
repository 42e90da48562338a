#include "profiles/exchange/exchange.h"

#include "core/files/file.h"
#include "core/settings/settings.h"
#include "core/settings/utf8.h"
#include "profiles/exchange/stamp.h"
#include "profiles/learner/learner_file.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/// Writing under way.
typedef struct {
  FILE*  stream;
  size_t n_sessions;
  size_t n_turns;
} Writing;

// JSON

/// Write a text as JSON (RFC 8259); it must be UTF-8.
static void
put_text(FILE* const stream, const char* text)
{
  (void)fputc('"', stream);
  for (; *text; ++text) {
    const unsigned char byte = (unsigned char)*text;
    if (byte < 0x20) {
      (void)fprintf(stream, "\\u%04x", byte);
    } else {
      if (byte == '"' || byte == '\\') {
        (void)fputc('\\', stream);
      }
      (void)fputc(byte, stream);
    }
  }
  (void)fputc('"', stream);
}

static void
put_id(FILE* const stream, const JournalId id)
{
  char text[JOURNAL_ID_TEXT];
  put_text(stream, journal_id_text(id, text));
}

/// Write the fields of a record, each with a comma before it if it is not the
/// first in its list; false if a text is none.
static bool
put_fields(FILE* const         stream,
           const JournalFields fields,
           const void* const   record,
           bool                is_first)
{
  bool is_good = true;
  for (unsigned i = 0; i < fields.n_fields; ++i, is_first = false) {
    const JournalField* const field = &fields.fields[i];
    if (!is_first) {
      (void)fputc(',', stream);
    }
    if (field->kind == JOURNAL_TEXT) {
      const char* const text = journal_field_text(field, record);
      is_good                = is_good && utf8_is_line(text);
      put_text(stream, text);
    } else if (field->may_be_none &&
               journal_field_number(field, record) == JOURNAL_NONE) {
      (void)fputs("null", stream);
    } else {
      (void)fprintf(stream, "%" PRId64, journal_field_number(field, record));
    }
  }
  return is_good;
}

static void
put_columns(FILE* const         stream,
            const JournalFields fields,
            const char* const   first)
{
  (void)fprintf(stream, "[%s", first);
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    (void)fprintf(
      stream, "%s\"%s\"", i || first[0] ? "," : "", fields.fields[i].name);
  }
  (void)fputc(']', stream);
}

static Status
put_session(void* const context, const JournalSession* const session)
{
  Writing* const writing = context;
  ++writing->n_sessions;
  (void)fputs("{\"session\":[", writing->stream);
  put_id(writing->stream, session->id);
  const bool is_good =
    put_fields(writing->stream, journal_session_fields(), session, false);
  (void)fputs("]}\n", writing->stream);
  return is_good ? STATUS_OK : STATUS_SYNTAX;
}

static Status
put_turn(void* const context, const JournalTurn* const turn)
{
  Writing* const writing = context;
  ++writing->n_turns;
  (void)fputc('[', writing->stream);
  const bool is_good =
    put_fields(writing->stream, journal_turn_fields(), turn, true);
  (void)fputs("]\n", writing->stream);
  return is_good ? STATUS_OK : STATUS_SYNTAX;
}

/// Write the notebook; false if a text is none.
static bool
put_ideas(FILE* const stream, const JournalIdeas* const ideas)
{
  bool is_good = true;
  for (size_t i = 0; i < ideas->n_ideas; ++i) {
    (void)fputs("{\"idea\":[", stream);
    put_id(stream, ideas->ideas[i].id);
    is_good =
      put_fields(stream, journal_idea_fields(), &ideas->ideas[i], false) &&
      is_good;
    (void)fputs("]}\n", stream);
  }
  return is_good;
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

static void
put_settings(FILE* const stream, const Person* const person)
{
  char* const text = load_settings(person);
  if (text) {
    (void)fprintf(stream,
                  "{\"changed_us\":%" PRId64 ",\"text\":",
                  stamp_of(person->settings));
    put_text(stream, text);
    (void)fputc('}', stream);
  } else {
    (void)fputs("null", stream);
  }
  free(text);
}

static Status
put_persons(FILE* const stream, Journal* const journal, Fault* const fault)
{
  JournalId*   ids    = NULL;
  size_t       n_ids  = 0;
  const Status status = journal_persons(journal, &ids, &n_ids, fault);
  for (size_t i = 0; i < n_ids; ++i) {
    (void)fputs(i ? "," : "", stream);
    put_id(stream, ids[i]);
  }
  free(ids);
  return status;
}

static Status
put_head(FILE* const         stream,
         const Person* const person,
         Journal* const      journal,
         const bool          has_ideas,
         Fault* const        fault)
{
  (void)fprintf(stream,
                "{\"format\":\"barter-learner\",\"version\":%d,"
                "\"learner\":\"%s\",\"persons\":[",
                has_ideas ? 2 : 1,
                person->id);
  const Status status = put_persons(stream, journal, fault);
  (void)fputs("],\"settings\":", stream);
  put_settings(stream, person);
  (void)fputs(",\"session_columns\":", stream);
  put_columns(stream, journal_session_fields(), "\"id\"");
  (void)fputs(",\"turn_columns\":", stream);
  put_columns(stream, journal_turn_fields(), "");
  if (has_ideas) {
    (void)fputs(",\"idea_columns\":", stream);
    put_columns(stream, journal_idea_fields(), "\"id\"");
  }
  (void)fputs("}\n", stream);
  return status;
}

static void
put_end(FILE* const               stream,
        const Writing* const      writing,
        const JournalIdeas* const ideas)
{
  (void)fprintf(stream,
                "{\"end\":{\"sessions\":%zu,\"turns\":%zu",
                writing->n_sessions,
                writing->n_turns);
  if (ideas->n_ideas) {
    (void)fprintf(stream, ",\"ideas\":%zu", ideas->n_ideas);
  }
  (void)fputs("}}\n", stream);
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
  Status status = put_head(stream, person, journal, ideas->n_ideas > 0, fault);
  if (status) {
    return status;
  }
  fault->status = STATUS_OK;
  status        = journal_read(journal, &reader, fault);
  if (!status && !put_ideas(stream, ideas)) {
    status = STATUS_SYNTAX;
  }
  if (status == STATUS_SYNTAX && !fault->status) {
    return fault_set(fault,
                     status,
                     person->journal,
                     0,
                     "the journal holds a text that is no line of UTF-8");
  }
  put_end(stream, &writing, ideas);
  return status;
}

static Status
write_journal(FILE* const         stream,
              const Person* const person,
              Journal* const      journal,
              Fault* const        fault)
{
  JournalIdeas ideas;
  Status       status = journal_name_person(journal, fault);
  if (status || (status = journal_ideas(journal, &ideas, fault))) {
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
    status = fault_set(fault,
                       STATUS_SYSTEM,
                       NULL,
                       0,
                       "the export could not be written: %s",
                       strerror(errno));
  }
  return status;
}
