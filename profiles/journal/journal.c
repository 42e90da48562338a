#include "profiles/journal/journal.h"

#include "profiles/journal/inside.h"
#include "profiles/journal/schema.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// Records and rows

const char*
journal_columns(const JournalFields fields,
                char                text[JOURNAL_STATEMENT_CAPACITY])
{
  size_t n = 0;
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    n += (size_t)snprintf(
      text + n,
      JOURNAL_STATEMENT_CAPACITY - n,
      field->is_line ? "%s(SELECT text FROM line WHERE line.number = turn.%s)"
                     : "%s%s",
      i ? ", " : "",
      field->name);
  }
  return text;
}

void
journal_bind(SqlQuery* const     query,
             const int           first,
             const JournalFields fields,
             const void* const   record)
{
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    const int                 index = first + (int)i;
    if (field->kind == JOURNAL_TEXT) {
      sql_bind_text(query, index, journal_field_text(field, record));
    } else {
      const int64_t number = journal_field_number(field, record);
      if (field->may_be_none && number == JOURNAL_NONE) {
        sql_bind_none(query, index);
      } else {
        sql_bind(query, index, number);
      }
    }
  }
}

bool
journal_unbind(SqlQuery* const     query,
               const int           first,
               const JournalFields fields,
               void* const         record)
{
  bool is_right = true;
  for (unsigned i = 0; is_right && i < fields.n_fields; ++i) {
    const JournalField* const field  = &fields.fields[i];
    const int                 column = first + (int)i;
    if (field->kind == JOURNAL_TEXT) {
      is_right = journal_field_copy(field, record, sql_text(query, column));
    } else {
      const int64_t number =
        sql_is_none(query, column) ? JOURNAL_NONE : sql_value(query, column);
      is_right = journal_field_allows(field, number);
      journal_field_set(field, record, is_right ? number : 0);
    }
  }
  return is_right;
}

Status
journal_failed(const Journal* const journal, Fault* const fault)
{
  return sql_fault(journal->sql, "the journal failed", fault);
}

int64_t
journal_find(Journal* const journal, const JournalId* const id)
{
  SqlQuery* const query = journal->queries[QUERY_FIND_SESSION];
  sql_bind_blob(query, 1, id->bytes, sizeof(id->bytes));
  const int64_t number = sql_step(query) == SQL_ROW ? sql_value(query, 0) : 0;
  sql_reset(query);
  return number;
}

// Statements

/// Prepare a statement that puts a record; the columns in `leading` come before
/// its fields.
static SqlQuery*
prepare_put(Sql* const          sql,
            const char* const   verb,
            const char* const   table,
            const char* const   leading,
            const unsigned      n_leading,
            const JournalFields fields)
{
  char   statement[2 * JOURNAL_STATEMENT_CAPACITY];
  size_t n = (size_t)snprintf(
    statement, sizeof(statement), "%s INTO %s (%s", verb, table, leading);
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    n += (size_t)snprintf(
      statement + n, sizeof(statement) - n, ", %s", fields.fields[i].name);
  }
  for (unsigned i = 0; i < n_leading; ++i) {
    n += (size_t)snprintf(statement + n,
                          sizeof(statement) - n,
                          i ? ", ?%u" : ") VALUES (?%u",
                          i + 1);
  }
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    n += (size_t)snprintf(statement + n,
                          sizeof(statement) - n,
                          fields.fields[i].is_line
                            ? ", (SELECT number FROM line WHERE text = ?%u)"
                            : ", ?%u",
                          n_leading + i + 1);
  }
  (void)snprintf(statement + n, sizeof(statement) - n, ")");
  return sql_prepare(sql, statement);
}

static SqlQuery*
prepare_get(Sql* const          sql,
            const char* const   table,
            const JournalFields fields,
            const char* const   rest)
{
  char columns[JOURNAL_STATEMENT_CAPACITY];
  char statement[2 * JOURNAL_STATEMENT_CAPACITY];
  (void)snprintf(statement,
                 sizeof(statement),
                 "SELECT %s FROM %s %s",
                 journal_columns(fields, columns),
                 table,
                 rest);
  return sql_prepare(sql, statement);
}

static const char add_total[] =
  "INSERT INTO total " SCHEMA_SUMS
  "WHERE session = ?1 AND number = ?2 GROUP BY session"
  " ON CONFLICT (session) DO UPDATE SET"
  " length_ms = length_ms + excluded.length_ms,"
  " turns = turns + excluded.turns,"
  " silent = silent + excluded.silent,"
  " judged = judged + excluded.judged,"
  " successes = successes + excluded.successes,"
  " aimed = aimed + excluded.aimed,"
  " landed = landed + excluded.landed,"
  " timed = timed + excluded.timed,"
  " spread_us = spread_us + excluded.spread_us,"
  " offset_us = offset_us + excluded.offset_us,"
  " space = space + excluded.space,"
  " swung = swung + excluded.swung,"
  " swing = swing + excluded.swing,"
  " complexity = complexity + excluded.complexity,"
  " notes = notes + excluded.notes,"
  " last = max(last, excluded.last)";

static const char sum_total[] = "INSERT OR REPLACE INTO total " SCHEMA_SUMS
                                "WHERE session = ?1 GROUP BY session";

static bool
prepare_all(Journal* const journal)
{
  Sql* const          sql     = journal->sql;
  SqlQuery** const    queries = journal->queries;
  const JournalFields session = journal_session_fields();
  const JournalFields turn    = journal_turn_fields();
  const JournalFields idea    = journal_idea_fields();
  static const char   swap[]  = "INSERT OR REPLACE";

  queries[QUERY_FIND_SESSION] =
    sql_prepare(sql, "SELECT number FROM session WHERE id = ?1");
  queries[QUERY_PUT_SESSION] =
    prepare_put(sql, "INSERT", "session", "number, id", 2, session);
  queries[QUERY_PUT_LINE] =
    sql_prepare(sql, "INSERT OR IGNORE INTO line (text) VALUES (?1)");
  queries[QUERY_PUT_TURN] =
    prepare_put(sql, "INSERT", "turn", "session", 1, turn);
  queries[QUERY_SWAP_SESSION] =
    prepare_put(sql, swap, "session", "number, id", 2, session);
  queries[QUERY_DROP_TURN] =
    sql_prepare(sql, "DELETE FROM turn WHERE session = ?1 AND number = ?2");
  queries[QUERY_GET_SESSION] =
    prepare_get(sql, "session", session, "WHERE number = ?1");
  queries[QUERY_GET_TURN] =
    prepare_get(sql, "turn", turn, "WHERE session = ?1 AND number = ?2");
  queries[QUERY_GET_TURNS] =
    prepare_get(sql, "turn", turn, "WHERE session = ?1 ORDER BY number");
  queries[QUERY_ADD_TOTAL] = sql_prepare(sql, add_total);
  queries[QUERY_SUM_TOTAL] = sql_prepare(sql, sum_total);
  queries[QUERY_PUT_PERSON] =
    sql_prepare(sql, "INSERT OR IGNORE INTO person VALUES (?1)");
  queries[QUERY_PUT_IDEA]  = prepare_put(sql, "INSERT", "idea", "id", 1, idea);
  queries[QUERY_SWAP_IDEA] = prepare_put(sql, swap, "idea", "id", 1, idea);
  queries[QUERY_GET_IDEA]  = prepare_get(sql, "idea", idea, "WHERE id = ?1");

  bool is_good = true;
  for (unsigned i = 0; i < N_QUERIES; ++i) {
    is_good = is_good && queries[i];
  }
  return is_good;
}

// Opening

Status
journal_open(Journal** const      journal,
             const char* const    path,
             const JournalOpening opening,
             Fault* const         fault)
{
  Journal* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  (void)snprintf(opened->path, sizeof(opened->path), "%s", path);
  Status status =
    sql_open(&opened->sql, path, opening == JOURNAL_MAY_CREATE, fault);
  if (!status) {
    status = schema_raise(opened->sql, path, fault);
  }
  if (!status && !prepare_all(opened)) {
    status = journal_failed(opened, fault);
  }
  if (status) {
    journal_close(opened);
    return status;
  }
  *journal = opened;
  return STATUS_OK;
}

void
journal_close(Journal* const journal)
{
  if (journal) {
    for (unsigned i = 0; i < N_QUERIES; ++i) {
      sql_finish(journal->queries[i]);
    }
    sql_close(journal->sql);
    free(journal);
  }
}

JournalId
journal_new_id(void)
{
  JournalId id;
  sql_chance(id.bytes, sizeof(id.bytes));
  return id;
}

// Writing

static Status
not_allowed(const Journal* const journal,
            const char* const    what,
            Fault* const         fault)
{
  return fault_in(fault, STATUS_RANGE, journal->path, "%s", what);
}

Status
journal_add_session(Journal* const              journal,
                    const JournalSession* const session,
                    Fault* const                fault)
{
  const JournalFields fields = journal_session_fields();
  if (!journal_is_right(fields, session)) {
    return not_allowed(journal, "a session holds what is not allowed", fault);
  }
  SqlQuery* const query = journal->queries[QUERY_PUT_SESSION];
  sql_bind_none(query, 1);
  sql_bind_blob(query, 2, session->id.bytes, sizeof(session->id.bytes));
  journal_bind(query, 3, fields, session);
  return sql_do(query) ? STATUS_OK : journal_failed(journal, fault);
}

static bool
drop(Journal* const journal, const char* const statement, const int64_t session)
{
  SqlQuery* const query = sql_prepare(journal->sql, statement);
  if (query) {
    sql_bind(query, 1, session);
  }
  const bool is_good = query && sql_do(query);
  sql_finish(query);
  return is_good;
}

enum { N_DROPPING = 3 }; // Statements

static Status
drop_by(Journal* const    journal,
        const JournalId   session,
        const char* const statements[N_DROPPING],
        Fault* const      fault)
{
  bool          is_good = sql_run(journal->sql, "BEGIN IMMEDIATE");
  const int64_t number  = is_good ? journal_find(journal, &session) : 0;
  for (unsigned i = 0; is_good && i < N_DROPPING; ++i) {
    is_good = drop(journal, statements[i], number);
  }
  if (is_good && sql_run(journal->sql, "COMMIT")) {
    return STATUS_OK;
  }
  const Status status = journal_failed(journal, fault);
  (void)!sql_run(journal->sql, "ROLLBACK");
  return status;
}

Status
journal_drop_unplayed(Journal* const  journal,
                      const JournalId session,
                      Fault* const    fault)
{
  // A session that was played in still has its turns after the first of these
  static const char* const statements[N_DROPPING] = {
    "DELETE FROM turn WHERE session = ?1 AND NOT EXISTS (SELECT 1 FROM turn"
    " WHERE session = ?1 AND by_player = 1 AND notes + comping > 0)",
    "DELETE FROM total WHERE session = ?1 AND NOT EXISTS (SELECT 1 FROM turn"
    " WHERE session = ?1)",
    "DELETE FROM session WHERE number = ?1 AND NOT EXISTS (SELECT 1 FROM turn"
    " WHERE session = ?1)",
  };
  return drop_by(journal, session, statements, fault);
}

Status
journal_drop(Journal* const  journal,
             const JournalId session,
             Fault* const    fault)
{
  static const char* const statements[N_DROPPING] = {
    "DELETE FROM turn WHERE session = ?1",
    "DELETE FROM total WHERE session = ?1",
    "DELETE FROM session WHERE number = ?1",
  };
  return drop_by(journal, session, statements, fault);
}

static bool
put_lines(Journal* const journal, const JournalTurn* const turn)
{
  const JournalFields fields  = journal_turn_fields();
  SqlQuery* const     query   = journal->queries[QUERY_PUT_LINE];
  bool                is_good = true;
  for (unsigned i = 0; is_good && i < fields.n_fields; ++i) {
    if (fields.fields[i].is_line) {
      sql_bind_text(query, 1, journal_field_text(&fields.fields[i], turn));
      is_good = sql_do(query);
    }
  }
  return is_good;
}

bool
journal_put_turn(Journal* const           journal,
                 const int64_t            session,
                 const JournalTurn* const turn)
{
  SqlQuery* const query = journal->queries[QUERY_PUT_TURN];
  if (!put_lines(journal, turn)) {
    return false;
  }
  sql_bind(query, 1, session);
  journal_bind(query, 2, journal_turn_fields(), turn);
  return sql_do(query);
}

/// Put a turn and add it to the sums.
static Status
add_turn(Journal* const           journal,
         const JournalId* const   id,
         const JournalTurn* const turn,
         Fault* const             fault)
{
  const int64_t session = journal_find(journal, id);
  if (!session) {
    return not_allowed(journal, "a turn is of no session there is", fault);
  }
  SqlQuery* const add = journal->queries[QUERY_ADD_TOTAL];
  sql_bind(add, 1, session);
  sql_bind(add, 2, turn->number);
  return journal_put_turn(journal, session, turn) && sql_do(add)
           ? STATUS_OK
           : journal_failed(journal, fault);
}

Status
journal_add_turn(Journal* const           journal,
                 const JournalId          session,
                 const JournalTurn* const turn,
                 Fault* const             fault)
{
  if (!journal_is_right(journal_turn_fields(), turn)) {
    return not_allowed(journal, "a turn holds what is not allowed", fault);
  }
  if (!sql_run(journal->sql, "BEGIN IMMEDIATE")) {
    return journal_failed(journal, fault);
  }
  Status status = add_turn(journal, &session, turn, fault);
  if (!status && !sql_run(journal->sql, "COMMIT")) {
    status = journal_failed(journal, fault);
  }
  if (status) {
    (void)!sql_run(journal->sql, "ROLLBACK");
  }
  return status;
}

// People

Status
journal_name_person(Journal* const journal, Fault* const fault)
{
  return sql_run(journal->sql,
                 "INSERT INTO person SELECT randomblob(16)"
                 " WHERE NOT EXISTS (SELECT 1 FROM person)")
           ? STATUS_OK
           : journal_failed(journal, fault);
}

Status
journal_persons(Journal* const    journal,
                JournalId** const ids,
                size_t* const     n_ids,
                Fault* const      fault)
{
  const int64_t most =
    sql_number(journal->sql, "SELECT count(*) FROM person", -1);
  JournalId* const read =
    most < 0 ? NULL : calloc((size_t)most + 1, sizeof(*read));
  SqlQuery* const query =
    sql_prepare(journal->sql, "SELECT id FROM person ORDER BY id");
  size_t  n    = 0;
  SqlStep step = read && query ? SQL_ROW : SQL_FAILED;
  while (step == SQL_ROW && (step = sql_step(query)) == SQL_ROW) {
    if (n < (size_t)most &&
        sql_blob(query, 0, read[n].bytes, sizeof(read[n].bytes))) {
      ++n;
    }
  }
  const Status status =
    step == SQL_DONE ? STATUS_OK : journal_failed(journal, fault);
  sql_finish(query);
  if (status) {
    free(read);
    return status;
  }
  *ids   = read;
  *n_ids = n;
  return STATUS_OK;
}

bool
journal_is_of(Journal* const journal, const JournalId person)
{
  SqlQuery* const query =
    sql_prepare(journal->sql, "SELECT 1 FROM person WHERE id = ?1");
  bool is_of = false;
  if (query) {
    sql_bind_blob(query, 1, person.bytes, sizeof(person.bytes));
    is_of = sql_step(query) == SQL_ROW;
  }
  sql_finish(query);
  return is_of;
}
