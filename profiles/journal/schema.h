/// @file profiles/journal/schema.h The tables of a journal, and how those of
/// older ones are brought up to them.
///
/// `PRAGMA user_version` counts the versions. Version 1 has `person`, `session`
/// and `turn`. Version 2 adds `total`, the sums of each session, and an index
/// of the turns after which the ladder moved. Version 3 adds `idea`. Version 4
/// keeps the turns in half the room, as `played`: each text once, in `line`,
/// and the rungs in one number; `turn` is now a view of them with the same
/// columns. The tables tell of each column what it holds: `sqlite3 journal.db
/// .schema`.

#ifndef PROFILES_JOURNAL_SCHEMA_H
#define PROFILES_JOURNAL_SCHEMA_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/sql.h"

enum { SCHEMA_VERSION = 4 };

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

   @return STATUS_OK; STATUS_SYNTAX if the database is no journal or that of a
   newer version, or what sql_fault() returned, with the fault written.
*/
MUST_USE Status
schema_raise(Sql* sql, const char* path, Fault* fault);

#endif // PROFILES_JOURNAL_SCHEMA_H
