// Two hundred times a program that writes turns is killed at a moment of
// chance. No turn that it was told is on the disk may be lost, and the journal
// must be whole each time.

#include "support/practice.h"

#include "profiles/journal/inside.h"

#include <criterion/criterion.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { N_KILLS = 200, LATEST_US = 16000 };

static char folder[PRACTICE_PATH_CAPACITY];
static char path[PRACTICE_PATH_CAPACITY];

/// Write turns as fast as they come, and tell of each when it is kept.
static void
write_for_ever(const JournalSession* const session, const int tell)
{
  Rng            rng     = rng_seed(1, 3);
  Journal* const journal = practice_open(path);
  Fault          fault;
  if (journal_add_session(journal, session, &fault)) {
    _exit(1);
  }
  for (int32_t number = 0;; ++number) {
    const JournalTurn turn = practice_turn(&rng, number);
    if ((number && journal_add_turn(journal, session->id, &turn, &fault)) ||
        write(tell, &number, sizeof(number)) != sizeof(number)) {
      _exit(1);
    }
  }
}

static void
sleep_us(const long us)
{
  const struct timespec time = {0, us * 1000};
  (void)nanosleep(&time, NULL);
}

/// Let a child write, kill it, and return the last turn that it told of.
/// @param has_begun Whether to count the time from when its session is there.
static int32_t
write_and_kill(const JournalSession* const session,
               const bool                  has_begun,
               const long                  after_us)
{
  int ends[2];
  cr_assert_eq(pipe(ends), 0);
  const pid_t child = fork();
  cr_assert_geq(child, 0);
  if (child == 0) {
    (void)close(ends[0]);
    write_for_ever(session, ends[1]);
  }
  (void)close(ends[1]);
  int32_t number = 0;
  if (has_begun) {
    cr_assert_eq(read(ends[0], &number, sizeof(number)), sizeof(number));
  }
  sleep_us(after_us);
  int how = 0;
  cr_assert_eq(kill(child, SIGKILL), 0);
  cr_assert_eq(waitpid(child, &how, 0), child);
  cr_assert(WIFSIGNALED(how), "it ended by itself");

  int32_t last = 0;
  while (read(ends[0], &number, sizeof(number)) == sizeof(number)) {
    last = number;
  }
  (void)close(ends[0]);
  return last;
}

/// Return how many turns of a session there are, all in a row from the first.
static int32_t
count_turns(Journal* const journal, const JournalId id)
{
  SqlQuery* const query =
    sql_prepare(journal->sql,
                "SELECT count(*), ifnull(max(turn.number), 0),"
                " ifnull(sum(total.length_ms), 0) / max(count(*), 1) -"
                " ifnull(sum(turn.length_ms), 0)"
                " FROM session JOIN turn ON turn.session = session.number"
                " LEFT JOIN total ON total.session = session.number"
                " WHERE id = ?1");
  sql_bind_blob(query, 1, id.bytes, sizeof(id.bytes));
  cr_assert_eq(sql_step(query), SQL_ROW);
  const int32_t n = (int32_t)sql_value(query, 0);
  cr_assert_eq(n, sql_value(query, 1), "there is a gap");
  cr_assert_eq(sql_value(query, 2), 0, "the sums are not those of the turns");
  sql_finish(query);
  return n;
}

static void
check_whole(Journal* const journal)
{
  SqlQuery* const query = sql_prepare(journal->sql, "PRAGMA integrity_check");
  cr_assert_eq(sql_step(query), SQL_ROW);
  cr_assert_str_eq(sql_text(query, 0), "ok");
  sql_finish(query);
}

Test(kill, no_finished_turn_is_lost)
{
  Rng     rng      = rng_seed((uint64_t)time(NULL), 3);
  int64_t n_told   = 0;
  int64_t n_killed = 0;
  practice_folder(folder);
  practice_path(path, folder, "journal.db");
  for (unsigned i = 0; i < N_KILLS; ++i) {
    const JournalSession session  = practice_session(&rng);
    const long           after_us = (long)rng_below(&rng, LATEST_US);
    const int32_t        told = write_and_kill(&session, i % 4 > 0, after_us);

    Journal* const journal = practice_open(path);
    const int32_t  kept    = count_turns(journal, session.id);
    check_whole(journal);
    journal_close(journal);
    cr_assert_geq(kept, told, "kill %u: %d told, %d kept", i, told, kept);
    cr_assert_leq(kept, told + 1, "kill %u: %d told, %d kept", i, told, kept);
    n_told += told;
    n_killed += told > 0;
  }
  cr_assert_gt(n_killed, N_KILLS / 10, "hardly any was killed while writing");
  cr_log_info("%ld turns told of, none lost", (long)n_told);
  practice_remove(folder);
}
