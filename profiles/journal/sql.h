/// @file profiles/journal/sql.h A database in a file; only sql.c knows SQLite.
///
/// Memory: what sql_open() and sql_prepare() take, sql_close() and
/// sql_finish() give back; texts and blobs of a row live until the next step.
/// Threads: one at a time for a Sql and its queries.

#ifndef PROFILES_JOURNAL_SQL_H
#define PROFILES_JOURNAL_SQL_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct Sql      Sql;
typedef struct SqlQuery SqlQuery;

/**
   Open a database for reading and writing: with a log ahead of the file (WAL),
   every commit on the disk before it returns (synchronous FULL), and up to five
   seconds of patience with another process that writes.

   @param creates Whether to make the file, for its owner alone (0600), if it is
   missing.
   @param[out] sql Written on success only.
   @return STATUS_OK; STATUS_MISSING if there is none and none is made,
   STATUS_SYNTAX if the file is no database, STATUS_MEMORY or STATUS_SYSTEM,
   with the fault written.
*/
MUST_USE Status
sql_open(Sql** sql, const char* path, bool creates, Fault* fault);

/// Close; NULL does nothing. All queries must be finished.
void
sql_close(Sql* sql);

/**
   Write what went wrong last as a fault: `PATH: WHAT: the library's words`,
   and what to do about a damaged file.

   @return STATUS_SYNTAX if the file is damaged or no database, STATUS_RANGE if
   a row breaks a rule of its table, STATUS_MEMORY or STATUS_SYSTEM.
*/
Status
sql_fault(const Sql* sql, const char* what, Fault* fault);

/// Run statements that have no values and give no rows; false if one fails.
MUST_USE bool
sql_run(Sql* sql, const char* statements);

/// Return the one number that a statement gives; `fallback` if it gives none.
int64_t
sql_number(Sql* sql, const char* statement, int64_t fallback);

/// Fill bytes by chance, from the system's source of it.
void
sql_chance(void* bytes, size_t n);

/// Prepare a statement; NULL if it fails.
MUST_USE SqlQuery*
sql_prepare(Sql* sql, const char* statement);

/// Give it back; NULL does nothing.
void
sql_finish(SqlQuery* query);

/// Bind a value, counted from 1; texts and blobs must live until the query is
/// reset.
void
sql_bind(SqlQuery* query, int index, int64_t value);
void
sql_bind_none(SqlQuery* query, int index);
void
sql_bind_text(SqlQuery* query, int index, const char* text);
void
sql_bind_blob(SqlQuery* query, int index, const void* bytes, size_t n);

typedef enum { SQL_ROW, SQL_DONE, SQL_FAILED } SqlStep;

/// Go on to the next row.
MUST_USE SqlStep
sql_step(SqlQuery* query);

/// Step once, and reset: for a statement that gives no row; false if it fails.
MUST_USE bool
sql_do(SqlQuery* query);

/// Make ready to be run again.
void
sql_reset(SqlQuery* query);

/// Return a value of the row, counted from 0; 0 if it is none.
int64_t
sql_value(SqlQuery* query, int column);

/// Whether a value of the row is NULL.
bool
sql_is_none(SqlQuery* query, int column);

/// Return a text of the row, empty if it is none.
const char*
sql_text(SqlQuery* query, int column);

/// Copy a blob of the row; false if it has not `n` bytes.
bool
sql_blob(SqlQuery* query, int column, void* bytes, size_t n);

#endif // PROFILES_JOURNAL_SQL_H
