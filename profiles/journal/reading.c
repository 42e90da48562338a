#include "profiles/journal/inside.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// Totals

/// The columns of `total` after `session`, in the order of JournalTotal.
static const char total_columns[] =
  "t.length_ms, t.turns, t.silent, t.judged, t.successes, t.aimed, t.landed,"
  " t.timed, t.spread_us, t.offset_us, t.space, t.swung, t.swing,"
  " t.complexity, t.notes, t.last";

static const char stand_columns[] =
  "turn.next_notes, turn.next_rhythm, turn.next_shape, turn.next_ornament,"
  " turn.budget";

static JournalStand
read_stand(SqlQuery* const query, const int first)
{
  JournalStand stand = {.budget = JOURNAL_NONE};
  for (int d = 0; d < N_DIMENSIONS; ++d) {
    const int64_t level = sql_value(query, first + d);
    if (level > 0 && level <= dimension_rungs((Dimension)d)) {
      stand.rung.level[d] = (uint8_t)level;
    }
  }
  if (!sql_is_none(query, first + N_DIMENSIONS)) {
    stand.budget = (int32_t)sql_value(query, first + N_DIMENSIONS);
  }
  return stand;
}

/// Read a row: ID, fields of the session, sums, stand; false if it is damaged.
static bool
read_total(SqlQuery* const query, JournalTotal* const total)
{
  const JournalFields fields = journal_session_fields();
  int64_t* const      sums[] = {
         &total->length_ms,
         &total->turns,
         &total->silent,
         &total->judged,
         &total->successes,
         &total->aimed,
         &total->landed,
         &total->timed,
         &total->spread_us,
         &total->offset_us,
         &total->space,
         &total->swung,
         &total->swing,
         &total->complexity,
         &total->notes,
         &total->last,
  };
  enum { N_SUMS = sizeof(sums) / sizeof(*sums) };
  const int first = 1 + (int)fields.n_fields;
  for (int i = 0; i < N_SUMS; ++i) {
    *sums[i] = sql_value(query, first + i);
  }
  total->stand = read_stand(query, first + N_SUMS);
  return sql_blob(query,
                  0,
                  total->session.id.bytes,
                  sizeof(total->session.id.bytes)) &&
         journal_unbind(query, 1, fields, &total->session);
}

static Status
damaged(const Journal* const journal, Fault* const fault)
{
  return fault_in(fault,
                  STATUS_SYNTAX,
                  journal->path,
                  "the journal holds a record that no program of ours wrote");
}

static SqlQuery*
prepare_totals(Journal* const journal)
{
  char       columns[JOURNAL_STATEMENT_CAPACITY];
  char       statement[2 * JOURNAL_STATEMENT_CAPACITY];
  const char text[] = "SELECT s.id, %s, %s, %s FROM total t"
                      " JOIN session s ON s.number = t.session"
                      " LEFT JOIN turn"
                      " ON turn.session = t.session AND turn.number = t.last"
                      " ORDER BY s.started_ms, s.id";
  (void)snprintf(statement,
                 sizeof(statement),
                 text,
                 journal_columns(journal_session_fields(), columns),
                 total_columns,
                 stand_columns);
  return sql_prepare(journal->sql, statement);
}

Status
journal_totals(Journal* const       journal,
               JournalTotals* const totals,
               Fault* const         fault)
{
  const int64_t most =
    sql_number(journal->sql, "SELECT count(*) FROM total", -1);
  JournalTotals read = {
    0, most < 0 ? NULL : calloc((size_t)most + 1, sizeof(*read.totals))};
  SqlQuery* const query  = prepare_totals(journal);
  Status          status = STATUS_OK;
  SqlStep         step   = read.totals && query ? SQL_ROW : SQL_FAILED;
  while (!status && step == SQL_ROW && (step = sql_step(query)) == SQL_ROW &&
         read.n_totals < (size_t)most) {
    status = read_total(query, &read.totals[read.n_totals++])
               ? STATUS_OK
               : damaged(journal, fault);
  }
  if (!status && step == SQL_FAILED) {
    status = journal_failed(journal, fault);
  }
  sql_finish(query);
  if (status) {
    journal_totals_free(&read);
    return status;
  }
  *totals = read;
  return STATUS_OK;
}

void
journal_totals_free(JournalTotals* const totals)
{
  free(totals->totals);
  *totals = (JournalTotals){.n_totals = 0};
}

Status
journal_stand(Journal* const      journal,
              JournalStand* const stand,
              Fault* const        fault)
{
  char statement[JOURNAL_STATEMENT_CAPACITY];
  (void)snprintf(statement,
                 sizeof(statement),
                 "SELECT %s FROM turn JOIN (SELECT t.session, t.last FROM"
                 " total t JOIN session s ON s.number = t.session"
                 " WHERE t.last > 0 ORDER BY s.started_ms DESC, s.id DESC"
                 " LIMIT 1) latest ON turn.session = latest.session"
                 " AND turn.number = latest.last",
                 stand_columns);
  SqlQuery* const query = sql_prepare(journal->sql, statement);
  const SqlStep   step  = query ? sql_step(query) : SQL_FAILED;
  if (step == SQL_ROW) {
    *stand = read_stand(query, 0);
  }
  const Status status = step == SQL_ROW    ? STATUS_OK
                        : step == SQL_DONE ? STATUS_MISSING
                                           : journal_failed(journal, fault);
  sql_finish(query);
  return status;
}

static void
read_moved(SqlQuery* const query, JournalMoved* const moved)
{
  moved->day  = (int32_t)sql_value(query, 0);
  moved->turn = (int32_t)sql_value(query, 1);
  (void)snprintf(moved->moved, sizeof(moved->moved), "%s", sql_text(query, 2));
  moved->is_of_first = sql_value(query, 3) != 0;
}

Status
journal_moves(Journal* const      journal,
              JournalMoves* const moves,
              Fault* const        fault)
{
  const int64_t most =
    sql_number(journal->sql, "SELECT count(*) FROM turn WHERE moved <> ''", -1);
  SqlQuery* const query =
    sql_prepare(journal->sql,
                "SELECT s.day, turn.number, turn.moved, s.number ="
                " (SELECT number FROM session ORDER BY started_ms, id LIMIT 1)"
                " FROM turn"
                " JOIN session s ON s.number = turn.session"
                " WHERE turn.moved <> ''"
                " ORDER BY s.started_ms DESC, s.id DESC, turn.number DESC");
  JournalMoves read = {
    0, most < 0 ? NULL : calloc((size_t)most + 1, sizeof(*read.moves))};
  SqlStep step = query && read.moves ? SQL_ROW : SQL_FAILED;
  while (step == SQL_ROW && (step = sql_step(query)) == SQL_ROW &&
         read.n_moves < (size_t)most) {
    read_moved(query, &read.moves[read.n_moves++]);
  }
  sql_finish(query);
  if (step == SQL_FAILED) {
    journal_moves_free(&read);
    return journal_failed(journal, fault);
  }
  *moves = read;
  return STATUS_OK;
}

void
journal_moves_free(JournalMoves* const moves)
{
  free(moves->moves);
  *moves = (JournalMoves){.n_moves = 0};
}

// Everything

static Status
read_turns(Journal* const             journal,
           const int64_t              session,
           const JournalReader* const reader,
           Fault* const               fault)
{
  SqlQuery* const query  = journal->queries[QUERY_GET_TURNS];
  Status          status = STATUS_OK;
  SqlStep         step   = SQL_ROW;
  sql_bind(query, 1, session);
  while (!status && (step = sql_step(query)) == SQL_ROW) {
    JournalTurn turn = {.number = 0};
    status           = journal_unbind(query, 0, journal_turn_fields(), &turn)
                         ? reader->turn(reader->context, &turn)
                         : damaged(journal, fault);
  }
  if (step == SQL_FAILED) {
    status = journal_failed(journal, fault);
  }
  sql_reset(query);
  return status;
}

static Status
read_session(Journal* const             journal,
             SqlQuery* const            query,
             const JournalReader* const reader,
             Fault* const               fault)
{
  JournalSession session = {.day = 0};
  if (!sql_blob(query, 1, session.id.bytes, sizeof(session.id.bytes)) ||
      !journal_unbind(query, 2, journal_session_fields(), &session)) {
    return damaged(journal, fault);
  }
  const Status status = reader->session(reader->context, &session);
  return status ? status
                : read_turns(journal, sql_value(query, 0), reader, fault);
}

static Status
read_sessions(Journal* const             journal,
              const JournalReader* const reader,
              Fault* const               fault)
{
  char columns[JOURNAL_STATEMENT_CAPACITY];
  char statement[2 * JOURNAL_STATEMENT_CAPACITY];
  (void)snprintf(statement,
                 sizeof(statement),
                 "SELECT number, id, %s FROM session ORDER BY started_ms, id",
                 journal_columns(journal_session_fields(), columns));
  SqlQuery* const query  = sql_prepare(journal->sql, statement);
  Status          status = STATUS_OK;
  SqlStep         step   = query ? SQL_ROW : SQL_FAILED;
  while (!status && step == SQL_ROW && (step = sql_step(query)) == SQL_ROW) {
    status = read_session(journal, query, reader, fault);
  }
  if (!status && step == SQL_FAILED) {
    status = journal_failed(journal, fault);
  }
  sql_finish(query);
  return status;
}

Status
journal_read(Journal* const             journal,
             const JournalReader* const reader,
             Fault* const               fault)
{
  // One look at it all, whatever another process adds meanwhile
  if (!sql_run(journal->sql, "BEGIN")) {
    return journal_failed(journal, fault);
  }
  const Status status = read_sessions(journal, reader, fault);
  (void)!sql_run(journal->sql, "COMMIT");
  return status;
}
