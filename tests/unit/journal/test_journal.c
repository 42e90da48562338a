#include "support/practice.h"

#include "profiles/journal/schema.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

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

// Everything that a reading told

enum { LOG_SESSIONS = 64, LOG_TURNS = 4096 };

typedef struct {
  unsigned       n_sessions;
  JournalSession sessions[LOG_SESSIONS];
  unsigned       n_turns;
  JournalTurn    turns[LOG_TURNS];
  unsigned       owners[LOG_TURNS];
} Log;

static Log written;
static Log read_log;

static Status
log_session(void* const context, const JournalSession* const session)
{
  Log* const log                   = context;
  log->sessions[log->n_sessions++] = *session;
  return STATUS_OK;
}

static Status
log_turn(void* const context, const JournalTurn* const turn)
{
  Log* const log             = context;
  log->owners[log->n_turns]  = log->n_sessions - 1;
  log->turns[log->n_turns++] = *turn;
  return STATUS_OK;
}

static void
read_all(Journal* const journal)
{
  const JournalReader reader = {log_session, log_turn, &read_log};
  Fault               fault;
  memset(&read_log, 0, sizeof(read_log));
  cr_assert_eq(journal_read(journal, &reader, &fault), STATUS_OK);
}

/// Write practice and keep what was written, in order of time.
static void
write_all(Journal* const journal, const unsigned n_sessions)
{
  Rng   rng = rng_seed(5, 1);
  Fault fault;
  memset(&written, 0, sizeof(written));
  for (unsigned i = 0; i < n_sessions; ++i) {
    JournalSession session = practice_session(&rng);
    session.started_ms     = 1000 + i;
    log_session(&written, &session);
    cr_assert_eq(journal_add_session(journal, &session, &fault), STATUS_OK);
    const unsigned n = rng_below(&rng, 30);
    for (unsigned number = 1; number <= n; ++number) {
      const JournalTurn turn = practice_turn(&rng, (int32_t)number);
      log_turn(&written, &turn);
      cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
                   STATUS_OK,
                   "%s",
                   fault.text);
    }
  }
}

Test(journal, gives_back_what_was_written, .init = set_up, .fini = tear_down)
{
  Journal* journal = practice_open(path);
  write_all(journal, 40);
  journal_close(journal); // ... and from the disk
  journal = practice_open(path);
  read_all(journal);
  journal_close(journal);

  cr_assert_eq(read_log.n_sessions, written.n_sessions);
  cr_assert_eq(read_log.n_turns, written.n_turns);
  for (unsigned i = 0; i < written.n_sessions; ++i) {
    cr_assert_eq(journal_compare(journal_session_fields(),
                                 &written.sessions[i],
                                 &read_log.sessions[i]),
                 0);
    cr_assert(
      journal_id_equals(written.sessions[i].id, read_log.sessions[i].id));
  }
  for (unsigned i = 0; i < written.n_turns; ++i) {
    cr_assert_eq(journal_compare(journal_turn_fields(),
                                 &written.turns[i],
                                 &read_log.turns[i]),
                 0);
    cr_assert_eq(written.owners[i], read_log.owners[i]);
  }
}

/// Check one session's sums against its turns, one by one.
static void
check_total(const JournalTotal* const total, const unsigned session)
{
  JournalTotal sums = {.turns = 0};
  for (unsigned i = 0; i < written.n_turns; ++i) {
    const JournalTurn* const turn = &written.turns[i];
    if (written.owners[i] != session) {
      continue;
    }
    sums.length_ms += turn->length_ms;
    if (!turn->by_player) {
      continue;
    }
    ++sums.turns;
    sums.notes += turn->notes;
    sums.silent += turn->notes == 0;
    sums.judged += turn->success != JOURNAL_NONE;
    sums.successes += turn->success == 1;
    sums.aimed += turn->target != JOURNAL_NONE;
    sums.landed += turn->target == 0 || turn->target == 1;
    if (turn->spread_us != JOURNAL_NONE) {
      ++sums.timed;
      sums.spread_us += turn->spread_us;
      sums.offset_us += turn->offset_us == JOURNAL_NONE ? 0 : turn->offset_us;
    }
    if (turn->swing != JOURNAL_NONE) {
      ++sums.swung;
      sums.swing += turn->swing;
    }
    if (turn->notes) {
      sums.space += turn->space;
      sums.complexity += turn->complexity;
    }
    if (turn->next_notes) {
      sums.last         = turn->number;
      sums.stand.budget = turn->budget;
      sums.stand.rung   = (Rung){{(uint8_t)turn->next_notes,
                                  (uint8_t)turn->next_rhythm,
                                  (uint8_t)turn->next_shape,
                                  (uint8_t)turn->next_ornament}};
    }
  }
  cr_assert_eq(total->length_ms, sums.length_ms);
  cr_assert_eq(total->turns, sums.turns);
  cr_assert_eq(total->silent, sums.silent);
  cr_assert_eq(total->judged, sums.judged);
  cr_assert_eq(total->successes, sums.successes);
  cr_assert_eq(total->aimed, sums.aimed);
  cr_assert_eq(total->landed, sums.landed);
  cr_assert_eq(total->timed, sums.timed);
  cr_assert_eq(total->spread_us, sums.spread_us);
  cr_assert_eq(total->offset_us, sums.offset_us);
  cr_assert_eq(total->space, sums.space);
  cr_assert_eq(total->swung, sums.swung);
  cr_assert_eq(total->swing, sums.swing);
  cr_assert_eq(total->complexity, sums.complexity);
  cr_assert_eq(total->notes, sums.notes);
  cr_assert_eq(total->last, sums.last);
  if (sums.last) {
    cr_assert_eq(total->stand.budget, sums.stand.budget);
    cr_assert_arr_eq(
      total->stand.rung.level, sums.stand.rung.level, N_DIMENSIONS);
  }
}

Test(journal, sums_are_those_of_the_turns, .init = set_up, .fini = tear_down)
{
  Journal* const journal = practice_open(path);
  JournalTotals  totals;
  Fault          fault;
  write_all(journal, 40);
  cr_assert_eq(journal_totals(journal, &totals, &fault), STATUS_OK);

  unsigned n_seen = 0;
  for (size_t i = 0; i < totals.n_totals; ++i) {
    for (unsigned session = 0; session < written.n_sessions; ++session) {
      if (journal_id_equals(written.sessions[session].id,
                            totals.totals[i].session.id)) {
        check_total(&totals.totals[i], session);
        ++n_seen;
      }
    }
    cr_assert(i == 0 || totals.totals[i - 1].session.started_ms <=
                          totals.totals[i].session.started_ms);
  }
  cr_assert_eq(n_seen, totals.n_totals);
  cr_assert_gt(n_seen, 30);
  journal_totals_free(&totals);
  journal_close(journal);
}

Test(journal,
     stand_is_that_of_the_latest_session,
     .init = set_up,
     .fini = tear_down)
{
  Journal* const journal = practice_open(path);
  JournalStand   stand;
  Fault          fault;
  cr_assert_eq(journal_stand(journal, &stand, &fault), STATUS_MISSING);

  Rng            rng   = rng_seed(6, 1);
  JournalSession late  = practice_session(&rng);
  JournalSession early = practice_session(&rng);
  JournalTurn    turn  = practice_turn(&rng, 1);
  late.started_ms      = 2000;
  early.started_ms     = 1000;
  turn.by_player       = 1;
  turn.next_notes      = 5;
  turn.next_rhythm     = 4;
  turn.next_shape      = 3;
  turn.next_ornament   = 2;
  turn.budget          = 14500;
  cr_assert_eq(journal_add_session(journal, &late, &fault), STATUS_OK);
  cr_assert_eq(journal_add_turn(journal, late.id, &turn, &fault), STATUS_OK);
  turn.next_notes = 1;
  cr_assert_eq(journal_add_session(journal, &early, &fault), STATUS_OK);
  cr_assert_eq(journal_add_turn(journal, early.id, &turn, &fault), STATUS_OK);
  turn.number     = 2; // The partner's say nothing of it
  turn.by_player  = 0;
  turn.next_notes = 8;
  cr_assert_eq(journal_add_turn(journal, late.id, &turn, &fault), STATUS_OK);

  cr_assert_eq(journal_stand(journal, &stand, &fault), STATUS_OK);
  static const uint8_t rung[] = {5, 4, 3, 2};
  cr_assert_arr_eq(stand.rung.level, rung, N_DIMENSIONS);
  cr_assert_eq(stand.budget, 14500);
  journal_close(journal);
}

Test(journal, moves_are_told_latest_first, .init = set_up, .fini = tear_down)
{
  Journal* const journal = practice_open(path);
  Rng            rng     = rng_seed(7, 1);
  Fault          fault;
  for (int32_t day = 1; day <= 5; ++day) {
    JournalSession session = practice_session(&rng);
    session.day            = day;
    session.started_ms     = day * 1000;
    cr_assert_eq(journal_add_session(journal, &session, &fault), STATUS_OK);
    for (int32_t number = 1; number <= 3; ++number) {
      JournalTurn turn = practice_turn(&rng, number);
      turn.moved[0]    = '\0';
      if (number == 2) {
        (void)snprintf(turn.moved, sizeof(turn.moved), "day %d", day);
      }
      cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
                   STATUS_OK);
    }
  }
  JournalMoves moves;
  cr_assert_eq(journal_moves(journal, &moves, &fault), STATUS_OK);
  cr_assert_eq(moves.n_moves, 5);
  cr_assert_str_eq(moves.moves[0].moved, "day 5");
  cr_assert_str_eq(moves.moves[4].moved, "day 1");
  cr_assert_eq(moves.moves[0].day, 5);
  cr_assert_eq(moves.moves[0].turn, 2);
  cr_assert(moves.moves[4].is_of_first);
  cr_assert_not(moves.moves[3].is_of_first);
  journal_moves_free(&moves);
  journal_close(journal);
}

// Refusals

Test(journal,
     what_is_not_allowed_changes_nothing,
     .init = set_up,
     .fini = tear_down)
{
  Journal* const journal = practice_open(path);
  write_all(journal, 3);
  Rng                  rng     = rng_seed(8, 1);
  const JournalSession session = practice_session(&rng);
  JournalTurn          turn    = practice_turn(&rng, 1);
  Fault                fault;
  // A session that is there; a turn of none; a turn that is there; a value
  cr_assert_eq(journal_add_session(journal, &written.sessions[1], &fault),
               STATUS_RANGE);
  cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
               STATUS_RANGE);
  cr_assert_eq(journal_add_session(journal, &session, &fault), STATUS_OK);
  cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault), STATUS_OK);
  cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
               STATUS_RANGE);
  turn.number = 2;
  turn.space  = 1001;
  cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
               STATUS_RANGE);
  read_all(journal);
  cr_assert_eq(read_log.n_sessions, written.n_sessions + 1);
  cr_assert_eq(read_log.n_turns, written.n_turns + 1);
  journal_close(journal);
}

Test(journal,
     is_not_made_where_none_is_asked_for,
     .init = set_up,
     .fini = tear_down)
{
  Journal*    journal = NULL;
  struct stat about;
  Fault       fault;
  cr_assert_eq(journal_open(&journal, path, JOURNAL_MUST_EXIST, &fault),
               STATUS_MISSING);
  cr_assert_neq(stat(path, &about), 0);
}

Test(journal, is_for_its_owner_alone, .init = set_up, .fini = tear_down)
{
  Journal* const journal = practice_open(path);
  write_all(journal, 1);
  static const char* const names[] = {
    "journal.db", "journal.db-wal", "journal.db-shm"};
  for (unsigned i = 0; i < sizeof(names) / sizeof(*names); ++i) {
    char        file[PRACTICE_PATH_CAPACITY];
    struct stat about;
    cr_assert_eq(stat(practice_path(file, folder, names[i]), &about), 0);
    cr_assert_eq(about.st_mode & 0777, 0600, "%s", names[i]);
  }
  journal_close(journal);
}

static void
write_file(const char* const text)
{
  FILE* const file = fopen(path, "w");
  cr_assert_not_null(file);
  cr_assert_geq(fputs(text, file), 0);
  cr_assert_eq(fclose(file), 0);
}

Test(journal,
     what_is_no_database_is_left_alone,
     .init = set_up,
     .fini = tear_down)
{
  static const char text[] =
    "Dear diary, today I practised the scale of F, and after that the scale of "
    "B flat, and then I went to bed, for it was late. Good night, dear diary!";
  Journal* journal = NULL;
  Fault    fault;
  write_file(text);
  cr_assert_eq(journal_open(&journal, path, JOURNAL_MAY_CREATE, &fault),
               STATUS_SYNTAX);
  char        found[sizeof(text)] = "";
  FILE* const file                = fopen(path, "r");
  cr_assert_not_null(file);
  cr_assert_not_null(fgets(found, sizeof(found), file));
  cr_assert_eq(fclose(file), 0);
  cr_assert_str_eq(found, text);
}

typedef struct {
  char   sql[96];
  Status status;
  char   says[32];
} OpeningRow;

ParameterizedTestParameters(journal, foreign)
{
  static OpeningRow rows[] = {
    {"CREATE TABLE recipe (name TEXT);", STATUS_SYNTAX, "no journal"},
    {"PRAGMA user_version = 1;", STATUS_SYNTAX, "no journal"},
    {"PRAGMA application_id = 7;", STATUS_SYNTAX, "no journal"},
    {"PRAGMA application_id = 0x42725472; PRAGMA user_version = 7;",
     STATUS_SYNTAX,
     "version 7"},
  };
  return cr_make_param_array(OpeningRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(OpeningRow* row,
                  journal,
                  foreign,
                  .init = set_up,
                  .fini = tear_down)
{
  Sql*     sql     = NULL;
  Journal* journal = NULL;
  Fault    fault;
  cr_assert_eq(sql_open(&sql, path, true, &fault), STATUS_OK);
  cr_assert(sql_run(sql, row->sql));
  sql_close(sql);
  cr_assert_eq(journal_open(&journal, path, JOURNAL_MAY_CREATE, &fault),
               row->status);
  cr_assert_not_null(strstr(fault.text, row->says), "%s", fault.text);
  cr_assert_str_eq(fault.file, path);
}

// Two programs at once: one writes turns, the other reads meanwhile
Test(journal, is_read_while_it_is_written, .init = set_up, .fini = tear_down)
{
  Journal* const writer = practice_open(path);
  Journal* const reader = practice_open(path);
  write_all(writer, 5);
  read_all(reader);
  cr_assert_eq(read_log.n_turns, written.n_turns);
  journal_close(reader);
  journal_close(writer);
}

// A session in which nobody struck a key was no practice; one chord is enough
Test(journal,
     forgets_a_session_without_a_note,
     .init = set_up,
     .fini = tear_down)
{
  Journal* const journal = practice_open(path);
  Rng            rng     = rng_seed(9, 1);
  Fault          fault;
  for (unsigned i = 0; i < 3; ++i) {
    const JournalSession session = practice_session(&rng);
    cr_assert_eq(journal_add_session(journal, &session, &fault), STATUS_OK);
    for (int32_t number = 1; number <= 4; ++number) {
      JournalTurn turn = practice_turn(&rng, number);
      turn.by_player   = number % 2;
      turn.notes       = turn.by_player ? i == 1 && number == 3 : 5;
      turn.comping     = turn.by_player && i == 2 && number == 1 ? 4 : 0;
      cr_assert_eq(journal_add_turn(journal, session.id, &turn, &fault),
                   STATUS_OK);
    }
    cr_assert_eq(journal_drop_unplayed(journal, session.id, &fault), STATUS_OK);
  }
  read_all(journal);
  cr_assert_eq(read_log.n_sessions, 2);
  cr_assert_eq(read_log.n_turns, 8);

  // Whoever is to be dropped is, played in or not
  const JournalId played = read_log.sessions[0].id;
  cr_assert_eq(journal_drop(journal, played, &fault), STATUS_OK);
  read_all(journal);
  journal_close(journal);
  cr_assert_eq(read_log.n_sessions, 1);
  cr_assert_eq(read_log.n_turns, 4);
}
