#include "profiles/exchange/exchange.h"

#include "profiles/journal/day.h"

#include <errno.h>
#include <inttypes.h>
#include <string.h>

/// Writing under way, and the session whose turns come.
typedef struct {
  FILE*          stream;
  JournalSession session;
} Table;

static void
put_text(FILE* const stream, const char* text)
{
  if (!text[strcspn(text, ",\"\r\n")]) {
    (void)fputs(text, stream);
    return;
  }
  (void)fputc('"', stream);
  for (; *text; ++text) {
    (void)fputs(*text == '"' ? "\"" : "", stream);
    (void)fputc(*text, stream);
  }
  (void)fputc('"', stream);
}

static void
put_number(FILE* const               stream,
           const JournalField* const field,
           const int64_t             number)
{
  char text[DAY_TEXT_CAPACITY];
  if (field->may_be_none && number == JOURNAL_NONE) {
    return;
  }
  if (strcmp(field->name, "day") == 0) {
    (void)fputs(day_text((int32_t)number, text), stream);
  } else if (strcmp(field->name, "move") == 0) {
    put_text(stream, move_name((Move)number));
  } else if (field->words) {
    char word[JOURNAL_KIND_CAPACITY];
    (void)fputs(journal_field_word(field, number, word), stream);
  } else {
    (void)fprintf(stream, "%" PRId64, number);
  }
}

static void
put_fields(FILE* const         stream,
           const JournalFields fields,
           const void* const   record)
{
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    (void)fputc(',', stream);
    if (field->kind == JOURNAL_TEXT) {
      put_text(stream, journal_field_text(field, record));
    } else {
      put_number(stream, field, journal_field_number(field, record));
    }
  }
}

static Status
keep_session(void* const context, const JournalSession* const session)
{
  Table* const table = context;
  table->session     = *session;
  return STATUS_OK;
}

static Status
put_turn(void* const context, const JournalTurn* const turn)
{
  const Table* const table = context;
  char               id[JOURNAL_ID_TEXT];
  (void)fputs(journal_id_text(table->session.id, id), table->stream);
  put_fields(table->stream, journal_session_fields(), &table->session);
  put_fields(table->stream, journal_turn_fields(), turn);
  (void)fputs("\r\n", table->stream);
  return STATUS_OK;
}

static void
put_heading(FILE* const stream)
{
  const JournalFields kinds[] = {journal_session_fields(),
                                 journal_turn_fields()};
  (void)fputs("session", stream);
  for (unsigned kind = 0; kind < 2; ++kind) {
    for (unsigned i = 0; i < kinds[kind].n_fields; ++i) {
      (void)fprintf(stream, ",%s", kinds[kind].fields[i].name);
    }
  }
  (void)fputs("\r\n", stream);
}

Status
exchange_write_csv(FILE* const    stream,
                   Journal* const journal,
                   Fault* const   fault)
{
  Table               table  = {.stream = stream};
  const JournalReader reader = {keep_session, put_turn, &table};
  put_heading(stream);
  const Status status = journal_read(journal, &reader, fault);
  if (!status && ferror(stream)) {
    return fault_set(fault,
                     STATUS_SYSTEM,
                     NULL,
                     0,
                     "the table could not be written: %s",
                     strerror(errno));
  }
  return status;
}
