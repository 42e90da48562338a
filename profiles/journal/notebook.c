#include "profiles/journal/inside.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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
  JournalIdea there = {.is_removed = 1};
  JournalIdea put   = *idea;
  put.id            = journal_idea_id(idea);
  put.is_removed    = 0;
  put.changed_ms    = idea->kept_ms;
  if (!journal_is_right(journal_idea_fields(), &put)) {
    return fault_in(
      fault, STATUS_RANGE, journal->path, "an idea holds what is not allowed");
  }
  const bool is_known = journal_get_idea(journal, put.id, &there);
  if (is_known && put.changed_ms <= there.changed_ms) {
    put.changed_ms = there.changed_ms + 1;
  }
  if (there.is_removed &&
      !journal_put_idea(
        journal, is_known ? QUERY_SWAP_IDEA : QUERY_PUT_IDEA, &put)) {
    return journal_failed(journal, fault);
  }
  *is_new = there.is_removed;
  return STATUS_OK;
}

// Changing

/// Read what is to be changed, as if it was later than whatever changed it
/// before: a clock may have been set back.
static Status
get_to_change(Journal* const     journal,
              const JournalId    id,
              const int64_t      now_ms,
              JournalIdea* const idea,
              Fault* const       fault)
{
  if (!journal_get_idea(journal, id, idea) || idea->is_removed) {
    return fault_in(fault,
                    STATUS_MISSING,
                    journal->path,
                    "there is no such idea in the notebook any more");
  }
  idea->changed_ms = now_ms > idea->changed_ms ? now_ms : idea->changed_ms + 1;
  return STATUS_OK;
}

static Status
put_changed(Journal* const           journal,
            const JournalIdea* const idea,
            Fault* const             fault)
{
  return journal_put_idea(journal, QUERY_SWAP_IDEA, idea)
           ? STATUS_OK
           : journal_failed(journal, fault);
}

Status
journal_rename_idea(Journal* const    journal,
                    const JournalId   id,
                    const char* const name,
                    const int64_t     now_ms,
                    Fault* const      fault)
{
  JournalIdea idea = {.is_removed = 0};
  if (strlen(name) >= sizeof(idea.name)) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "the name of an idea has at most %zu bytes",
                     sizeof(idea.name) - 1);
  }
  const Status status = get_to_change(journal, id, now_ms, &idea, fault);
  if (status) {
    return status;
  }
  memcpy(idea.name, name, strlen(name) + 1);
  return put_changed(journal, &idea, fault);
}

Status
journal_remove_idea(Journal* const  journal,
                    const JournalId id,
                    const int64_t   now_ms,
                    Fault* const    fault)
{
  JournalIdea  idea   = {.is_removed = 0};
  const Status status = get_to_change(journal, id, now_ms, &idea, fault);
  if (status) {
    return status;
  }
  const JournalIdea nothing = {
    .id = id, .changed_ms = idea.changed_ms, .is_removed = 1};
  return put_changed(journal, &nothing, fault);
}

// Reading

static SqlQuery*
prepare_ideas(Journal* const journal, const bool with_removed)
{
  char columns[JOURNAL_STATEMENT_CAPACITY];
  char statement[2 * JOURNAL_STATEMENT_CAPACITY];
  (void)snprintf(statement,
                 sizeof(statement),
                 "SELECT id, %s FROM idea %s ORDER BY kept_ms, id",
                 journal_columns(journal_idea_fields(), columns),
                 with_removed ? "" : "WHERE NOT is_removed");
  return sql_prepare(journal->sql, statement);
}

static bool
read_idea(SqlQuery* const query, JournalIdea* const idea)
{
  return sql_blob(query, 0, idea->id.bytes, sizeof(idea->id.bytes)) &&
         journal_unbind(query, 1, journal_idea_fields(), idea);
}

static Status
read_ideas(Journal* const      journal,
           const bool          with_removed,
           JournalIdeas* const ideas,
           Fault* const        fault)
{
  const int64_t most =
    sql_number(journal->sql, "SELECT count(*) FROM idea", -1);
  JournalIdeas read = {
    0, most < 0 ? NULL : calloc((size_t)most + 1, sizeof(*read.ideas))};
  SqlQuery* const query    = prepare_ideas(journal, with_removed);
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
           : fault_in(fault,
                      STATUS_SYNTAX,
                      journal->path,
                      "the notebook holds an idea that no program of ours "
                      "wrote");
}

Status
journal_ideas(Journal* const      journal,
              JournalIdeas* const ideas,
              Fault* const        fault)
{
  return read_ideas(journal, false, ideas, fault);
}

Status
journal_all_ideas(Journal* const      journal,
                  JournalIdeas* const ideas,
                  Fault* const        fault)
{
  return read_ideas(journal, true, ideas, fault);
}

void
journal_ideas_free(JournalIdeas* const ideas)
{
  free(ideas->ideas);
  *ideas = (JournalIdeas){.n_ideas = 0};
}
