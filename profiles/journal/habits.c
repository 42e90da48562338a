#include "profiles/journal/inside.h"
#include "profiles/ladder/climb.h"

#include <stdio.h>

// How far back a habit goes: a week or two of daily practice
enum { HABIT_SESSIONS = 8 };

// The first turns that were judged against the learner's rungs
#define FIRST_JUDGED                                                           \
  "SELECT success FROM turn JOIN session ON session.number = turn.session"     \
  " WHERE by_player = 1 AND success IS NOT NULL AND next_notes > 0"            \
  " AND way = 'answer' LIMIT %d"

static double
thousandths(SqlQuery* const query, const int column)
{
  return (double)sql_value(query, column) / 1000.0;
}

Status
journal_habits(Journal* const       journal,
               JournalHabits* const habits,
               Fault* const         fault)
{
  char statement[JOURNAL_STATEMENT_CAPACITY];
  (void)snprintf(statement,
                 sizeof(statement),
                 "SELECT n, CAST(round(1000 * ns) AS INTEGER),"
                 " CAST(round(1000 * rh) AS INTEGER),"
                 " CAST(round(1000 * sh) AS INTEGER),"
                 " CAST(round(1000 * orn) AS INTEGER),"
                 " CAST(round(spread) AS INTEGER),"
                 " (SELECT count(*) FROM session),"
                 " (SELECT count(*) FROM (" FIRST_JUDGED ")),"
                 " (SELECT count(*) FROM (" FIRST_JUDGED ") WHERE NOT success)"
                 " FROM (SELECT"
                 " count(*) n,"
                 " avg(CASE success WHEN 1 THEN heard_notes END) ns,"
                 " avg(CASE success WHEN 1 THEN heard_rhythm END) rh,"
                 " avg(CASE success WHEN 1 THEN heard_shape END) sh,"
                 " avg(CASE success WHEN 1 THEN heard_ornament END) orn,"
                 " avg(spread_us) spread"
                 " FROM turn WHERE by_player = 1 AND notes > 0 AND session IN"
                 " (SELECT number FROM session"
                 " ORDER BY started_ms DESC, id DESC LIMIT %d))",
                 FINDING_TURNS,
                 FINDING_TURNS,
                 HABIT_SESSIONS);
  SqlQuery* const query = sql_prepare(journal->sql, statement);
  const SqlStep   step  = query ? sql_step(query) : SQL_FAILED;
  if (step == SQL_ROW) {
    *habits = (JournalHabits){.n_sessions = sql_value(query, 6),
                              .n_turns    = sql_value(query, 0),
                              .spread_ms  = thousandths(query, 5),
                              .n_judged   = sql_value(query, 7),
                              .n_failures = sql_value(query, 8)};
    for (int d = 0; d < N_DIMENSIONS; ++d) {
      habits->heard[d] = thousandths(query, 1 + d);
    }
  }
  const Status status =
    step == SQL_ROW ? STATUS_OK : journal_failed(journal, fault);
  sql_finish(query);
  return status;
}

Status
journal_whys(Journal* const   journal,
             const int32_t    from_day,
             const JournalWhy tell,
             void* const      context,
             unsigned* const  n_judged,
             Fault* const     fault)
{
  SqlQuery* const query = sql_prepare(
    journal->sql,
    "SELECT line.text, turn.success, count(*) FROM turn"
    " JOIN session ON session.number = turn.session"
    " JOIN line ON line.number = turn.why"
    " WHERE by_player = 1 AND success IS NOT NULL AND session.day >= ?"
    " GROUP BY 1, 2");
  SqlStep  step = query ? SQL_ROW : SQL_FAILED;
  unsigned sum  = 0;
  if (query) {
    sql_bind(query, 1, from_day);
  }
  while (step == SQL_ROW && (step = sql_step(query)) == SQL_ROW) {
    const unsigned n = (unsigned)sql_value(query, 2);
    sum += n;
    if (!sql_value(query, 1)) {
      tell(context, sql_text(query, 0), n);
    }
  }
  const Status status =
    step == SQL_FAILED ? journal_failed(journal, fault) : STATUS_OK;
  sql_finish(query);
  if (!status) {
    *n_judged = sum;
  }
  return status;
}
