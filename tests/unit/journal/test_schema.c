// Journals of every earlier version are brought up to the present one, and
// sqlite3 itself finds nothing wrong with what is written.

#include "support/practice.h"

#include "profiles/journal/inside.h"
#include "profiles/journal/schema.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char folder[PRACTICE_PATH_CAPACITY];
static char old_path[PRACTICE_PATH_CAPACITY];
static char new_path[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
  practice_path(old_path, folder, "old.db");
  practice_path(new_path, folder, "new.db");
}

static void
tear_down(void)
{
  practice_remove(folder);
}

/// Run the sqlite3 program on a database and return what it says.
static const char*
ask_sqlite3(const char* const path, const char* const statement)
{
  static char answer[1 << 20];
  char        command[4096];
  (void)snprintf(
    command, sizeof(command), "sqlite3 '%s' \"%s\"", path, statement);
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

/// Make a journal as a version was, out of the tables kept beside this test.
static void
make_old(const unsigned version)
{
  static char statements[65536];
  char        tables[256];
  (void)snprintf(tables,
                 sizeof(tables),
                 "%s/tests/unit/journal/schema_%u.sql",
                 BARTER_SOURCE_DIR,
                 version);
  FILE* const file = fopen(tables, "r");
  cr_assert_not_null(file);
  const size_t n = fread(statements, 1, sizeof(statements) - 1, file);
  statements[n]  = '\0';
  cr_assert_eq(fclose(file), 0);
  Sql*  sql = NULL;
  Fault fault;
  cr_assert_eq(sql_open(&sql, old_path, true, &fault), STATUS_OK);
  cr_assert(sql_run(sql, statements));

  // Its rows are those of a new one, which has the same columns
  char attach[1024];
  (void)snprintf(attach, sizeof(attach), "ATTACH '%s' AS other", new_path);
  cr_assert(sql_run(sql, attach));
  cr_assert(sql_run(sql,
                    "INSERT INTO session SELECT * FROM other.session;"
                    "INSERT INTO turn SELECT * FROM other.turn;"
                    "INSERT INTO person SELECT * FROM other.person;"));
  cr_assert(version < 2 ||
            sql_run(sql, "INSERT INTO total SELECT * FROM other.total;"));
  cr_assert(version < 3 ||
            sql_run(sql, "INSERT INTO idea SELECT * FROM other.idea;"));
  sql_close(sql);
}

/// Write all sessions and turns of a journal as text.
static const char*
all_of(const char* const path)
{
  return ask_sqlite3(path,
                     "SELECT hex(id), s.*, t.* FROM session s LEFT JOIN turn t"
                     " ON t.session = s.number ORDER BY 1, t.number");
}

ParameterizedTestParameters(schema, older_ones_are_brought_up)
{
  static unsigned versions[] = {1, 2, 3};
  return cr_make_param_array(
    unsigned, versions, sizeof(versions) / sizeof(*versions));
}

ParameterizedTest(const unsigned* version,
                  schema,
                  older_ones_are_brought_up,
                  .init = set_up,
                  .fini = tear_down)
{
  Rng      rng  = rng_seed(1, 2);
  Journal* made = practice_open(new_path);
  Fault    fault;
  practice_fill(made, &rng, 20, 30);
  cr_assert_eq(journal_name_person(made, &fault), STATUS_OK);
  make_old(*version);

  Journal* const raised = practice_open(old_path);
  cr_assert_eq(sql_number(raised->sql, "PRAGMA user_version", -1),
               SCHEMA_VERSION);
  JournalTotals here;
  JournalTotals there;
  cr_assert_eq(journal_totals(made, &here, &fault), STATUS_OK);
  cr_assert_eq(journal_totals(raised, &there, &fault), STATUS_OK);
  cr_assert_eq(here.n_totals, there.n_totals);
  cr_assert_gt(here.n_totals, 10);
  cr_assert_eq(
    memcmp(here.totals, there.totals, here.n_totals * sizeof(*here.totals)), 0);
  journal_totals_free(&here);
  journal_totals_free(&there);
  journal_close(raised);
  journal_close(made);
  if (has_sqlite3()) {
    static char before[1 << 20];
    (void)snprintf(before, sizeof(before), "%s", all_of(new_path));
    cr_assert_gt(strlen(before), 10000);
    cr_assert_str_eq(all_of(old_path), before);
    cr_assert_str_eq(ask_sqlite3(old_path, "PRAGMA foreign_key_check"), "");
  }
}

// What is broken on the way up leaves the old one as it was
Test(schema, rising_is_all_or_nothing, .init = set_up, .fini = tear_down)
{
  Rng      rng  = rng_seed(2, 2);
  Journal* made = practice_open(new_path);
  practice_fill(made, &rng, 3, 5);
  journal_close(made);
  make_old(1);
  Sql*  sql = NULL;
  Fault fault;
  cr_assert_eq(sql_open(&sql, old_path, true, &fault), STATUS_OK);
  cr_assert(sql_run(sql, "CREATE TABLE turn_moved (in_the_way INTEGER)"));
  sql_close(sql);

  Journal* journal = NULL;
  cr_assert_neq(journal_open(&journal, old_path, JOURNAL_MAY_CREATE, &fault),
                STATUS_OK);
  cr_assert_eq(sql_open(&sql, old_path, false, &fault), STATUS_OK);
  cr_assert_eq(sql_number(sql, "PRAGMA user_version", -1), 1);
  cr_assert_eq(
    sql_number(
      sql, "SELECT count(*) FROM sqlite_master WHERE name = 'total'", -1),
    0);
  sql_close(sql);
}

// The tables have the columns of the records, in their order
Test(schema, columns_are_the_fields, .init = set_up, .fini = tear_down)
{
  Journal* const      journal = practice_open(new_path);
  const JournalFields kinds[] = {
    journal_session_fields(), journal_turn_fields(), journal_idea_fields()};
  const char* const tables[] = {"session", "turn", "idea"};
  const char* const before[] = {"number, id,", "session,", "id,"};
  for (unsigned i = 0; i < 3; ++i) {
    char statement[128];
    char own[JOURNAL_STATEMENT_CAPACITY];
    char all[2 * JOURNAL_STATEMENT_CAPACITY];
    (void)snprintf(statement,
                   sizeof(statement),
                   "SELECT group_concat(name, ', ') FROM"
                   " (SELECT name FROM pragma_table_info('%s') ORDER BY cid)",
                   tables[i]);
    (void)snprintf(
      all, sizeof(all), "%s %s", before[i], journal_columns(kinds[i], own));
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
  Journal* const journal = practice_open(new_path);
  practice_fill(journal, &rng, 20, 30);
  cr_assert_str_eq(ask_sqlite3(new_path, "PRAGMA integrity_check"), "ok\n");
  cr_assert_str_eq(ask_sqlite3(new_path, "PRAGMA foreign_key_check"), "");
  cr_assert_str_eq(ask_sqlite3(new_path, "PRAGMA journal_mode"), "wal\n");
  cr_assert_str_eq(ask_sqlite3(new_path, "PRAGMA user_version"), "4\n");

  // The tables say of their columns what they hold
  const char* const schema = ask_sqlite3(new_path, ".schema");
  cr_assert_not_null(strstr(schema, "-- Mean lateness, microseconds"));
  cr_assert_not_null(strstr(schema, "-- Days since 1970-01-01, local time"));
  journal_close(journal);
}

// The moves of the ladder are found without reading every turn
Test(schema, moves_are_found_by_their_index, .init = set_up, .fini = tear_down)
{
  Journal* const  journal = practice_open(new_path);
  SqlQuery* const query =
    sql_prepare(journal->sql,
                "EXPLAIN QUERY PLAN SELECT s.day, turn.number, turn.moved"
                " FROM played turn JOIN session s ON s.number = turn.session"
                " WHERE turn.moved <> ''");
  bool is_used = false;
  while (sql_step(query) == SQL_ROW) {
    is_used = is_used || strstr(sql_text(query, 3), "turn_moved");
  }
  sql_finish(query);
  cr_assert(is_used);
  journal_close(journal);
}
