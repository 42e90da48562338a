#include "profiles/exchange/exchange.h"

#include "core/files/file.h"
#include "profiles/journal/day.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>
#include <time.h>

/// What a column of the table is called, and by how much its whole numbers are
/// divided: people write 96 bpm and 75 per cent, not thousandths.
typedef struct {
  const char* field;
  const char* heading;
  int64_t     divisor;
} Column;

static const Column columns[] = {
  {"started_ms", "started_utc", 1}, // As ISO 8601 has it
  {"tempo", "tempo_bpm", 1000},
  {"length_ms", "length_s", 1000},
  {"swing", "swing_ratio", 1000},
  {"offset_us", "late_ms", 1000},
  {"spread_us", "spread_ms", 1000},
  {"syncopation", "syncopation_per_bar", 1000},
  {"evenness", "evenness_npvi", 1000},
  {"onsets", "onsets_per_bar", 1000},
  {"space", "space_percent", 10},
  {"range", "range_semitones", 1},
  {"chord_share", "chord_tones_percent", 10},
  {"scale_share", "scale_tones_percent", 10},
  {"outside_share", "outside_percent", 10},
  {"left_share", "left_hanging_percent", 10},
  {"complexity", "complexity_0_to_100", 1000},
  {"heard_notes", "heard_notes_rung", 1},
  {"heard_rhythm", "heard_rhythm_rung", 1},
  {"heard_shape", "heard_shape_rung", 1},
  {"heard_ornament", "heard_ornament_rung", 1},
  {"stands_notes", "stands_notes_rung", 1},
  {"stands_rhythm", "stands_rhythm_rung", 1},
  {"stands_shape", "stands_shape_rung", 1},
  {"stands_ornament", "stands_ornament_rung", 1},
  {"next_notes", "next_notes_rung", 1},
  {"next_rhythm", "next_rhythm_rung", 1},
  {"next_shape", "next_shape_rung", 1},
  {"next_ornament", "next_ornament_rung", 1},
  {"budget", "budget_rungs", 1000},
  {"success", "came_off", 1},
  {"idea", "idea_number", 1},
  {"likeness", "likeness_percent", 10},
};

/// Return how a field is written; as it is, where nothing else is said.
static Column
column_of(const JournalField* const field)
{
  for (unsigned i = 0; i < sizeof(columns) / sizeof(*columns); ++i) {
    if (strcmp(columns[i].field, field->name) == 0) {
      return columns[i];
    }
  }
  return (Column){field->name, field->name, 1};
}

/// Writing under way, and the session whose turns come.
typedef struct {
  FILE*          stream;
  const char*    learner;
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
put_moment(FILE* const stream, const int64_t unix_ms)
{
  const time_t seconds = (time_t)(unix_ms / 1000);
  struct tm    moment  = {0};
  char         text[32];
  (void)gmtime_r(&seconds, &moment);
  (void)strftime(text, sizeof(text), "%Y-%m-%dT%H:%M:%SZ", &moment);
  (void)fputs(text, stream);
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
  if (strcmp(field->name, "started_ms") == 0) {
    put_moment(stream, number);
  } else if (strcmp(field->name, "day") == 0) {
    (void)fputs(day_text((int32_t)number, text), stream);
  } else if (strcmp(field->name, "move") == 0) {
    put_text(stream, move_name((Move)number));
  } else if (field->words) {
    char word[JOURNAL_KIND_CAPACITY];
    (void)fputs(journal_field_word(field, number, word), stream);
  } else {
    const Column column = column_of(field);
    if (column.divisor == 1) {
      (void)fprintf(stream, "%" PRId64, number);
    } else {
      (void)fprintf(stream,
                    "%.10g",
                    round(100.0 * (double)number / (double)column.divisor) /
                      100.0); // A hundredth is as near as anybody reads
    }
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
  (void)fprintf(table->stream,
                "%s,%s",
                table->learner,
                journal_id_text(table->session.id, id));
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
  (void)fputs("learner,session", stream);
  for (unsigned kind = 0; kind < 2; ++kind) {
    for (unsigned i = 0; i < kinds[kind].n_fields; ++i) {
      (void)fprintf(stream, ",%s", column_of(&kinds[kind].fields[i]).heading);
    }
  }
  (void)fputs("\r\n", stream);
}

Status
exchange_write_csv(FILE* const       stream,
                   const char* const learner,
                   Journal* const    journal,
                   Fault* const      fault)
{
  Table               table  = {.stream = stream, .learner = learner};
  const JournalReader reader = {keep_session, put_turn, &table};
  put_heading(stream);
  const Status status = journal_read(journal, &reader, fault);
  if (!status && ferror(stream)) {
    return file_fault(fault, NULL, "the table could not be written");
  }
  return status;
}
