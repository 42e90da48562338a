/// @file profiles/journal/schema.h The tables of a journal, and how those of
/// older ones are brought up to them.
///
/// `PRAGMA user_version` counts the versions, from SCHEMA_FIRST: those before
/// it were never released and are refused. The tables tell of each column what
/// it holds: `sqlite3 journal.db .schema`.

#ifndef PROFILES_JOURNAL_SCHEMA_H
#define PROFILES_JOURNAL_SCHEMA_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/sql.h"

enum { SCHEMA_FIRST = 6 };

/// What makes one version into the next: texts of SQL, NULL after the last.
typedef const char* const* SchemaStep;

/// What says, as `PRAGMA application_id`, that a database is a journal.
#define SCHEMA_APPLICATION_ID 0x42725472

/// The sums over turns of a session, in the order of the columns of `total`;
/// a WHERE is to follow.
#define SCHEMA_SUMS                                                            \
  "SELECT session, sum(length_ms), sum(by_player),"                            \
  " sum(by_player AND notes = 0),"                                             \
  " count(success) FILTER (WHERE by_player),"                                  \
  " ifnull(sum(success) FILTER (WHERE by_player), 0),"                         \
  " count(target) FILTER (WHERE by_player),"                                   \
  " ifnull(sum(target <= 1) FILTER (WHERE by_player), 0),"                     \
  " count(spread_us) FILTER (WHERE by_player),"                                \
  " ifnull(sum(spread_us) FILTER (WHERE by_player), 0),"                       \
  " ifnull(sum(offset_us) FILTER (WHERE by_player"                             \
  " AND spread_us IS NOT NULL), 0),"                                           \
  " ifnull(sum(space) FILTER (WHERE by_player AND notes > 0), 0),"             \
  " count(swing) FILTER (WHERE by_player),"                                    \
  " ifnull(sum(swing) FILTER (WHERE by_player), 0),"                           \
  " ifnull(sum(complexity) FILTER (WHERE by_player AND notes > 0), 0),"        \
  " ifnull(sum(notes) FILTER (WHERE by_player), 0),"                           \
  " ifnull(max(number) FILTER (WHERE by_player AND next_notes > 0), 0)"        \
  " FROM turn "

/**
   Make the tables, or bring older ones up; all of it or nothing.

   @return STATUS_OK; STATUS_SYNTAX if the database is no journal or one of a
   version that is not known, or what sql_fault() returned, with the fault
   written and nothing changed.
*/
MUST_USE Status
schema_raise(Sql* sql, const char* path, Fault* fault);

/// As schema_raise(), by other steps: the first makes version SCHEMA_FIRST.
MUST_USE Status
schema_climb(Sql*              sql,
             const char*       path,
             const SchemaStep* steps,
             unsigned          n_steps,
             Fault*            fault);

#endif // PROFILES_JOURNAL_SCHEMA_H
