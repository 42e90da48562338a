#include "profiles/journal/inside.h"

#include <stdio.h>
#include <stdlib.h>

bool
journal_put_idea(Journal* const           journal,
                 const JournalQuery       how,
                 const JournalIdea* const idea)
{
  SqlQuery* const query = journal->queries[how];
  sql_bind_blob(query, 1, idea->id.bytes, sizeof(idea->id.bytes));
  journal_bind(query, 2, journal_idea_fields(), idea);
  return sql_do(query);
}

bool
journal_get_idea(Journal* const     journal,
                 const JournalId    id,
                 JournalIdea* const idea)
{
  SqlQuery* const query = journal->queries[QUERY_GET_IDEA];
  sql_bind_blob(query, 1, id.bytes, sizeof(id.bytes));
  const bool is_there = sql_step(query) == SQL_ROW &&
                        journal_unbind(query, 0, journal_idea_fields(), idea);
  sql_reset(query);
  idea->id = id;
  return is_there;
}

Status
journal_keep_idea(Journal* const           journal,
                  const JournalIdea* const idea,
                  bool* const              is_new,
                  Fault* const             fault)
{
  JournalIdea there = {.kept_ms = 0};
  JournalIdea put   = *idea;
  put.id            = journal_idea_id(idea);
  if (!journal_is_right(journal_idea_fields(), &put)) {
    return fault_set(fault,
                     STATUS_RANGE,
                     journal->path,
                     0,
                     "an idea holds what is not allowed");
  }
  const bool is_kept = journal_get_idea(journal, put.id, &there);
  if (!is_kept && !journal_put_idea(journal, QUERY_PUT_IDEA, &put)) {
    return journal_failed(journal, fault);
  }
  *is_new = !is_kept;
  return STATUS_OK;
}

static SqlQuery*
prepare_ideas(Journal* const journal)
{
  char columns[JOURNAL_STATEMENT_CAPACITY];
  char statement[2 * JOURNAL_STATEMENT_CAPACITY];
  (void)snprintf(statement,
                 sizeof(statement),
                 "SELECT id, %s FROM idea ORDER BY kept_ms, id",
                 journal_columns(journal_idea_fields(), columns));
  return sql_prepare(journal->sql, statement);
}

static bool
read_idea(SqlQuery* const query, JournalIdea* const idea)
{
  return sql_blob(query, 0, idea->id.bytes, sizeof(idea->id.bytes)) &&
         journal_unbind(query, 1, journal_idea_fields(), idea);
}

Status
journal_ideas(Journal* const      journal,
              JournalIdeas* const ideas,
              Fault* const        fault)
{
  const int64_t most =
    sql_number(journal->sql, "SELECT count(*) FROM idea", -1);
  JournalIdeas read = {
    0, most < 0 ? NULL : calloc((size_t)most + 1, sizeof(*read.ideas))};
  SqlQuery* const query    = prepare_ideas(journal);
  SqlStep         step     = read.ideas && query ? SQL_ROW : SQL_FAILED;
  bool            is_whole = true;
  while (is_whole && step == SQL_ROW && (step = sql_step(query)) == SQL_ROW &&
         read.n_ideas < (size_t)most) {
    is_whole = read_idea(query, &read.ideas[read.n_ideas++]);
  }
  sql_finish(query);
  if (is_whole && step != SQL_FAILED) {
    *ideas = read;
    return STATUS_OK;
  }
  journal_ideas_free(&read);
  return is_whole
           ? journal_failed(journal, fault)
           : fault_set(fault,
                       STATUS_SYNTAX,
                       journal->path,
                       0,
                       "the notebook holds an idea that no program of ours "
                       "wrote");
}

void
journal_ideas_free(JournalIdeas* const ideas)
{
  free(ideas->ideas);
  *ideas = (JournalIdeas){.n_ideas = 0};
}
