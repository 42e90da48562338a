// Journals are brought up by steps or left alone, and sqlite3 itself finds
// nothing wrong with what is written.

#include "support/practice.h"

#include "profiles/journal/inside.h"
#include "profiles/journal/schema.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char folder[PRACTICE_PATH_CAPACITY];
static char path[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
  practice_path(path, folder, "journal.db");
}

static void
tear_down(void)
{
  practice_remove(folder);
}

/// Run the sqlite3 program on a database and return what it says.
static const char*
ask_sqlite3(const char* const file, const char* const statement)
{
  static char answer[1 << 20];
  char        command[4096];
  (void)snprintf(
    command, sizeof(command), "sqlite3 '%s' \"%s\"", file, statement);
  FILE* const pipe = popen(command, "r");
  cr_assert_not_null(pipe);
  const size_t n = fread(answer, 1, sizeof(answer) - 1, pipe);
  answer[n]      = '\0';
  cr_assert_eq(pclose(pipe), 0, "%s: %s", command, answer);
  return answer;
}

static bool
has_sqlite3(void)
{
  return system("command -v sqlite3 >/dev/null") == 0;
}

/// What the program's own steps made, and one more after it.
static const char* const no_step[] = {NULL};
static const char* const made_up[] = {
  "CREATE TABLE mood (word TEXT) STRICT;",
  "INSERT INTO mood SELECT 'glad' || count(*)"
  " FROM session;",
  NULL};
static const char* const breaks_up[] = {"CREATE TABLE mood (word TEXT) STRICT;",
                                        "INSERT INTO nowhere VALUES (1);",
                                        NULL};

static int64_t
version_of(Sql* const sql)
{
  return sql_number(sql, "PRAGMA user_version", -1);
}

/// Fill a journal with 3 sessions, close it, and open what lies under it.
static Sql*
open_filled(void)
{
  Rng            rng  = rng_seed(1, 2);
  Journal* const made = practice_open(path);
  Sql*           sql  = NULL;
  Fault          fault;
  practice_fill(made, &rng, 3, 5);
  journal_close(made);
  cr_assert_eq(sql_open(&sql, path, false, &fault), STATUS_OK);
  return sql;
}

// A next version is made out of this one: here by a step of the test's own
Test(schema, a_step_brings_a_journal_up, .init = set_up, .fini = tear_down)
{
  const SchemaStep steps[] = {no_step, made_up};
  Sql* const       sql     = open_filled();
  Fault            fault;
  cr_assert_eq(version_of(sql), SCHEMA_FIRST);
  const int64_t n_turns = sql_number(sql, "SELECT count(*) FROM turn", -1);
  cr_assert_eq(schema_climb(sql, path, steps, 2, &fault), STATUS_OK);
  cr_assert_eq(version_of(sql), SCHEMA_FIRST + 1);
  cr_assert_eq(
    sql_number(sql, "SELECT count(*) FROM mood WHERE word = 'glad3'", -1), 1);
  cr_assert_eq(sql_number(sql, "SELECT count(*) FROM turn", -1), n_turns);

  // Once is enough, and this program's own steps know no such version
  cr_assert_eq(schema_climb(sql, path, steps, 2, &fault), STATUS_OK);
  cr_assert_eq(sql_number(sql, "SELECT count(*) FROM mood", -1), 1);
  cr_assert_eq(schema_raise(sql, path, &fault), STATUS_SYNTAX);
  cr_assert_not_null(strstr(fault.text, "a newer one reads it"));
  sql_close(sql);
}

// What is broken on the way up leaves the old one as it was
Test(schema, rising_is_all_or_nothing, .init = set_up, .fini = tear_down)
{
  const SchemaStep steps[] = {no_step, breaks_up};
  Sql* const       sql     = open_filled();
  Fault            fault;
  cr_assert_neq(schema_climb(sql, path, steps, 2, &fault), STATUS_OK);
  cr_assert_eq(version_of(sql), SCHEMA_FIRST);
  cr_assert_eq(
    sql_number(
      sql, "SELECT count(*) FROM sqlite_master WHERE name = 'mood'", -1),
    0);
  sql_close(sql);
  journal_close(practice_open(path)); // It is good as it was
}

// Those of before the first release are told of, and not touched
Test(schema, early_ones_are_left_alone, .init = set_up, .fini = tear_down)
{
  for (int version = 1; version < SCHEMA_FIRST; ++version) {
    char  mark[128];
    Sql*  sql = NULL;
    Fault fault;
    (void)snprintf(mark,
                   sizeof(mark),
                   "PRAGMA application_id = %d; PRAGMA user_version = %d;",
                   SCHEMA_APPLICATION_ID,
                   version);
    cr_assert_eq(sql_open(&sql, path, true, &fault), STATUS_OK);
    cr_assert(sql_run(sql, mark));
    sql_close(sql);
    Journal* journal = NULL;
    cr_assert_eq(journal_open(&journal, path, JOURNAL_MAY_CREATE, &fault),
                 STATUS_SYNTAX);
    cr_assert_not_null(strstr(fault.text, "before the first release"));
    cr_assert_eq(sql_open(&sql, path, false, &fault), STATUS_OK);
    cr_assert_eq(version_of(sql), version);
    cr_assert_eq(sql_number(sql, "SELECT count(*) FROM sqlite_master", -1), 0);
    sql_close(sql);
  }
}

// The tables have the columns of the records, in their order
Test(schema, columns_are_the_fields, .init = set_up, .fini = tear_down)
{
  Journal* const      journal = practice_open(path);
  const JournalFields kinds[] = {
    journal_session_fields(), journal_turn_fields(), journal_idea_fields()};
  const char* const tables[] = {"session", "turn", "idea"};
  const char* const before[] = {"number, id", "session", "id"};
  for (unsigned i = 0; i < 3; ++i) {
    char   statement[128];
    char   all[JOURNAL_STATEMENT_CAPACITY];
    size_t n = 0;
    (void)snprintf(statement,
                   sizeof(statement),
                   "SELECT group_concat(name, ', ') FROM"
                   " (SELECT name FROM pragma_table_info('%s') ORDER BY cid)",
                   tables[i]);
    n = (size_t)snprintf(all, sizeof(all), "%s", before[i]);
    for (unsigned f = 0; f < kinds[i].n_fields; ++f) {
      n += (size_t)snprintf(
        all + n, sizeof(all) - n, ", %s", kinds[i].fields[f].name);
    }
    SqlQuery* const query = sql_prepare(journal->sql, statement);
    cr_assert_eq(sql_step(query), SQL_ROW);
    cr_assert_str_eq(sql_text(query, 0), all);
    sql_finish(query);
  }
  journal_close(journal);
}

Test(schema, sqlite3_finds_it_whole, .init = set_up, .fini = tear_down)
{
  if (!has_sqlite3()) {
    cr_skip_test("there is no sqlite3 here");
  }
  Rng            rng     = rng_seed(3, 2);
  Journal* const journal = practice_open(path);
  practice_fill(journal, &rng, 20, 30);
  cr_assert_str_eq(ask_sqlite3(path, "PRAGMA integrity_check"), "ok\n");
  cr_assert_str_eq(ask_sqlite3(path, "PRAGMA foreign_key_check"), "");
  cr_assert_str_eq(ask_sqlite3(path, "PRAGMA journal_mode"), "wal\n");
  cr_assert_str_eq(ask_sqlite3(path, "PRAGMA user_version"), "6\n");

  // The tables say of their columns what they hold
  const char* const schema = ask_sqlite3(path, ".schema");
  cr_assert_not_null(strstr(schema, "-- Mean lateness, microseconds"));
  cr_assert_not_null(strstr(schema, "-- Days since 1970-01-01, local time"));
  journal_close(journal);
}

// The moves of the ladder are found without reading every turn
Test(schema, moves_are_found_by_their_index, .init = set_up, .fini = tear_down)
{
  Journal* const  journal = practice_open(path);
  SqlQuery* const query =
    sql_prepare(journal->sql,
                "EXPLAIN QUERY PLAN SELECT s.day, turn.number, turn.moved"
                " FROM turn JOIN session s ON s.number = turn.session"
                " WHERE turn.moved <> ''");
  bool is_used = false;
  while (sql_step(query) == SQL_ROW) {
    is_used = is_used || strstr(sql_text(query, 3), "turn_moved");
  }
  sql_finish(query);
  cr_assert(is_used);
  journal_close(journal);
}
