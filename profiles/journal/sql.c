#include "profiles/journal/sql.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATIENCE_MS = 5000 };

struct Sql {
  sqlite3* database;
  char     path[1024];
};

// A query is the library's own statement under our name
static sqlite3_stmt*
statement_of(SqlQuery* const query)
{
  return (sqlite3_stmt*)query;
}

Status
sql_fault(const Sql* const sql, const char* const what, Fault* const fault)
{
  Status      status = STATUS_SYSTEM;
  const char* advice = "";
  switch (sqlite3_errcode(sql->database)) {
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
      status = STATUS_SYNTAX;
      advice = "; move it away to begin a new one, or to import an export";
      break;
    case SQLITE_CANTOPEN:
    case SQLITE_READONLY:
    case SQLITE_FULL:
    case SQLITE_IOERR:
      advice = "; is the disk full, or its folder read-only?";
      break;
    case SQLITE_CONSTRAINT:
      status = STATUS_RANGE;
      break;
    case SQLITE_NOMEM:
      status = STATUS_MEMORY;
      break;
    default:
      break;
  }
  return fault_in(fault,
                  status,
                  sql->path,
                  "%s: %s%s",
                  what,
                  sqlite3_errmsg(sql->database),
                  advice);
}

// Opening

/// Make the file, if it is missing, so that nobody else may ever read it: the
/// library gives its log the same rights.
static Status
make_private(const char* const path, const bool creates, Fault* const fault)
{
  struct stat about;
  if (stat(path, &about) == 0) {
    return STATUS_OK;
  }
  if (!creates || errno != ENOENT) {
    const Status status = errno == ENOENT ? STATUS_MISSING : STATUS_SYSTEM;
    return fault_in(
      fault, status, path, "cannot be opened: %s", strerror(errno));
  }
  const int descriptor = open(path, O_WRONLY | O_CREAT, 0600);
  if (descriptor < 0) {
    return fault_in(
      fault, STATUS_SYSTEM, path, "cannot be made: %s", strerror(errno));
  }
  (void)close(descriptor);
  return STATUS_OK;
}

static Status
open_database(Sql* const sql, Fault* const fault)
{
  const int code =
    sqlite3_open_v2(sql->path, &sql->database, SQLITE_OPEN_READWRITE, NULL);
  if (!sql->database) {
    return fault_memory(fault, NULL);
  }
  (void)sqlite3_busy_timeout(sql->database, PATIENCE_MS);
  if (code || !sql_run(sql,
                       "PRAGMA journal_mode = WAL;"
                       "PRAGMA synchronous = FULL;"
                       "PRAGMA foreign_keys = ON;"
                       "PRAGMA trusted_schema = OFF;")) {
    return sql_fault(sql, "cannot be opened", fault);
  }
  return STATUS_OK;
}

Status
sql_open(Sql** const       sql,
         const char* const path,
         const bool        creates,
         Fault* const      fault)
{
  Status status = make_private(path, creates, fault);
  if (status) {
    return status;
  }
  Sql* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  (void)snprintf(opened->path, sizeof(opened->path), "%s", path);
  status = open_database(opened, fault);
  if (status) {
    sql_close(opened);
    return status;
  }
  *sql = opened;
  return STATUS_OK;
}

void
sql_close(Sql* const sql)
{
  if (sql) {
    (void)sqlite3_close(sql->database);
    free(sql);
  }
}

// Statements

bool
sql_run(Sql* const sql, const char* const statements)
{
  return sqlite3_exec(sql->database, statements, NULL, NULL, NULL) == SQLITE_OK;
}

int64_t
sql_number(Sql* const sql, const char* const statement, const int64_t fallback)
{
  int64_t         number = fallback;
  SqlQuery* const query  = sql_prepare(sql, statement);
  if (query && sql_step(query) == SQL_ROW) {
    number = sql_value(query, 0);
  }
  sql_finish(query);
  return number;
}

void
sql_chance(void* const bytes, const size_t n)
{
  sqlite3_randomness((int)n, bytes);
}

SqlQuery*
sql_prepare(Sql* const sql, const char* const statement)
{
  sqlite3_stmt* prepared = NULL;
  const int     code     = sqlite3_prepare_v3(
    sql->database, statement, -1, SQLITE_PREPARE_PERSISTENT, &prepared, NULL);
  return code == SQLITE_OK ? (SqlQuery*)prepared : NULL;
}

void
sql_finish(SqlQuery* const query)
{
  (void)sqlite3_finalize(statement_of(query));
}

// Binding copies nothing and so takes no memory: it cannot fail

void
sql_bind(SqlQuery* const query, const int index, const int64_t value)
{
  (void)sqlite3_bind_int64(statement_of(query), index, value);
}

void
sql_bind_none(SqlQuery* const query, const int index)
{
  (void)sqlite3_bind_null(statement_of(query), index);
}

void
sql_bind_text(SqlQuery* const query, const int index, const char* const text)
{
  (void)sqlite3_bind_text(statement_of(query), index, text, -1, SQLITE_STATIC);
}

void
sql_bind_blob(SqlQuery* const   query,
              const int         index,
              const void* const bytes,
              const size_t      n)
{
  (void)sqlite3_bind_blob(
    statement_of(query), index, bytes, (int)n, SQLITE_STATIC);
}

SqlStep
sql_step(SqlQuery* const query)
{
  switch (sqlite3_step(statement_of(query))) {
    case SQLITE_ROW:
      return SQL_ROW;
    case SQLITE_DONE:
      return SQL_DONE;
    default:
      return SQL_FAILED;
  }
}

bool
sql_do(SqlQuery* const query)
{
  const SqlStep step = sql_step(query);
  sql_reset(query);
  return step != SQL_FAILED;
}

void
sql_reset(SqlQuery* const query)
{
  (void)sqlite3_reset(statement_of(query));
}

int64_t
sql_value(SqlQuery* const query, const int column)
{
  return sqlite3_column_int64(statement_of(query), column);
}

bool
sql_is_none(SqlQuery* const query, const int column)
{
  return sqlite3_column_type(statement_of(query), column) == SQLITE_NULL;
}

const char*
sql_text(SqlQuery* const query, const int column)
{
  const unsigned char* const text =
    sqlite3_column_text(statement_of(query), column);
  return text ? (const char*)text : "";
}

bool
sql_blob(SqlQuery* const query,
         const int       column,
         void* const     bytes,
         const size_t    n)
{
  sqlite3_stmt* const statement = statement_of(query);
  const void* const   blob      = sqlite3_column_blob(statement, column);
  if (!blob || sqlite3_column_bytes(statement, column) != (int)n) {
    return false;
  }
  memcpy(bytes, blob, n);
  return true;
}
