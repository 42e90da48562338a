#include "profiles/journal/inside.h"

#include <string.h>

Status
journal_merge_begin(Journal* const journal, Fault* const fault)
{
  journal->gain       = (JournalGain){.turns_added = 0};
  journal->session    = 0;
  journal->is_touched = false;
  // Pages in memory while ten years may come in: 16 MiB, instead of 2
  return sql_run(journal->sql, "PRAGMA cache_size = -16384") &&
             sql_run(journal->sql, "BEGIN IMMEDIATE")
           ? STATUS_OK
           : journal_failed(journal, fault);
}

Status
journal_merge_person(Journal* const  journal,
                     const JournalId person,
                     Fault* const    fault)
{
  SqlQuery* const query = journal->queries[QUERY_PUT_PERSON];
  sql_bind_blob(query, 1, person.bytes, sizeof(person.bytes));
  return sql_do(query) ? STATUS_OK : journal_failed(journal, fault);
}

/// Make the sums of the present session anew if it has changed.
static bool
sum_up(Journal* const journal)
{
  if (!journal->is_touched) {
    return true;
  }
  journal->is_touched   = false;
  SqlQuery* const query = journal->queries[QUERY_SUM_TOTAL];
  sql_bind(query, 1, journal->session);
  return sql_do(query);
}

/// Run a query that gives one record; false if it gives none.
static bool
get_record(SqlQuery* const     query,
           const JournalFields fields,
           void* const         record)
{
  const bool is_there =
    sql_step(query) == SQL_ROW && journal_unbind(query, 0, fields, record);
  sql_reset(query);
  return is_there;
}

static bool
put_session(Journal* const              journal,
            const JournalQuery          how,
            const int64_t               number,
            const JournalSession* const session)
{
  SqlQuery* const query = journal->queries[how];
  if (number) {
    sql_bind(query, 1, number);
  } else {
    sql_bind_none(query, 1);
  }
  sql_bind_blob(query, 2, session->id.bytes, sizeof(session->id.bytes));
  journal_bind(query, 3, journal_session_fields(), session);
  return sql_do(query);
}

/// Put a session in place of the one there is if it comes after it.
static bool
prefer_session(Journal* const              journal,
               const int64_t               number,
               const JournalSession* const session)
{
  const JournalFields fields = journal_session_fields();
  SqlQuery* const     get    = journal->queries[QUERY_GET_SESSION];
  JournalSession      own    = {.day = 0};
  sql_bind(get, 1, number);
  if (get_record(get, fields, &own) &&
      journal_compare(fields, session, &own) <= 0) {
    return true;
  }
  ++journal->gain.records_replaced;
  return put_session(journal, QUERY_SWAP_SESSION, number, session);
}

Status
journal_merge_session(Journal* const              journal,
                      const JournalSession* const session,
                      Fault* const                fault)
{
  if (!sum_up(journal)) {
    return journal_failed(journal, fault);
  }
  const int64_t own     = journal_find(journal, &session->id);
  const bool    is_good = own
                            ? prefer_session(journal, own, session)
                            : put_session(journal, QUERY_PUT_SESSION, 0, session);
  if (!is_good) {
    return journal_failed(journal, fault);
  }
  journal->gain.sessions_added += !own;
  journal->is_new    = !own;
  journal->last_turn = 0;
  journal->session   = own ? own : journal_find(journal, &session->id);
  return STATUS_OK;
}

static bool
put_turn(Journal* const journal, const JournalTurn* const turn)
{
  journal->is_touched = true;
  return journal_put_turn(journal, journal->session, turn);
}

static bool
drop_turn(Journal* const journal, const int32_t number)
{
  SqlQuery* const query = journal->queries[QUERY_DROP_TURN];
  sql_bind(query, 1, journal->session);
  sql_bind(query, 2, number);
  return sql_do(query);
}

/// Find the turn of a number in the present session; false if there is none.
static bool
get_turn(Journal* const journal, const int32_t number, JournalTurn* const turn)
{
  if (journal->is_new && number > journal->last_turn) {
    return false; // No need to look
  }
  SqlQuery* const get = journal->queries[QUERY_GET_TURN];
  sql_bind(get, 1, journal->session);
  sql_bind(get, 2, number);
  return get_record(get, journal_turn_fields(), turn);
}

Status
journal_merge_turn(Journal* const           journal,
                   const JournalTurn* const turn,
                   Fault* const             fault)
{
  JournalTurn own     = {.number = 0};
  bool        is_good = true;
  if (!get_turn(journal, turn->number, &own)) {
    is_good = put_turn(journal, turn);
    ++journal->gain.turns_added;
  } else if (journal_compare(journal_turn_fields(), turn, &own) > 0) {
    is_good = drop_turn(journal, turn->number) && put_turn(journal, turn);
    ++journal->gain.records_replaced;
  }
  if (turn->number > journal->last_turn) {
    journal->last_turn = turn->number;
  }
  return is_good ? STATUS_OK : journal_failed(journal, fault);
}

Status
journal_merge_idea(Journal* const           journal,
                   const JournalIdea* const idea,
                   Fault* const             fault)
{
  JournalIdea own = {.kept_ms = 0};
  JournalIdea put = *idea;
  put.id          = idea->is_removed ? idea->id : journal_idea_id(idea);
  bool is_good    = true;
  if (!journal_get_idea(journal, put.id, &own)) {
    is_good = journal_put_idea(journal, QUERY_PUT_IDEA, &put);
    journal->gain.ideas_added += !put.is_removed;
  } else if (journal_compare(journal_idea_fields(), &put, &own) > 0) {
    is_good = journal_put_idea(journal, QUERY_SWAP_IDEA, &put);
    ++journal->gain.records_replaced;
  }
  return is_good ? STATUS_OK : journal_failed(journal, fault);
}

Status
journal_merge_end(Journal* const     journal,
                  JournalGain* const gain,
                  Fault* const       fault)
{
  if (!sum_up(journal) || !sql_run(journal->sql, "COMMIT")) {
    const Status status = journal_failed(journal, fault);
    journal_merge_abandon(journal);
    return status;
  }
  *gain = journal->gain;
  return STATUS_OK;
}

void
journal_merge_abandon(Journal* const journal)
{
  (void)!sql_run(journal->sql, "ROLLBACK");
  journal->is_touched = false;
}
