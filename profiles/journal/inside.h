/// @file profiles/journal/inside.h A journal from inside: for the sources of
/// this room only.

#ifndef PROFILES_JOURNAL_INSIDE_H
#define PROFILES_JOURNAL_INSIDE_H

#include "profiles/journal/journal.h"
#include "profiles/journal/sql.h"

enum { JOURNAL_PATH_CAPACITY = 1024, JOURNAL_STATEMENT_CAPACITY = 4096 };

/// The statements that are run again and again.
typedef enum {
  QUERY_FIND_SESSION, ///< ID -> number
  QUERY_PUT_SESSION,  ///< Number or none, ID, fields
  QUERY_PUT_LINE,     ///< Text
  QUERY_PUT_TURN,     ///< Session, fields
  QUERY_SWAP_SESSION, ///< ... in place of the one that is there
  QUERY_DROP_TURN,    ///< Session, number
  QUERY_GET_SESSION,  ///< Number -> fields
  QUERY_GET_TURN,     ///< Session, number -> fields
  QUERY_GET_TURNS,    ///< Session -> fields, in order
  QUERY_ADD_TOTAL,    ///< Session, number: add the turn to the sums
  QUERY_SUM_TOTAL,    ///< Session: make the sums anew
  QUERY_PUT_PERSON,
  QUERY_PUT_IDEA,  ///< ID, fields
  QUERY_SWAP_IDEA, ///< ... in place of the one that is there
  QUERY_GET_IDEA,  ///< ID -> fields
  N_QUERIES,
} JournalQuery;

struct Journal {
  Sql*      sql;
  char      path[JOURNAL_PATH_CAPACITY];
  SqlQuery* queries[N_QUERIES];
  // While something is merged
  JournalGain gain;
  int64_t     session;    ///< The number of the present one, 0 if there is none
  bool        is_new;     ///< ... that it was merged as new,
  int32_t     last_turn;  ///< and the highest number of its turns since
  bool        is_touched; ///< Whether its sums must be made anew
};

/// Write the columns that hold fields, as a SELECT names them; return `text`.
const char*
journal_columns(JournalFields fields, char text[JOURNAL_STATEMENT_CAPACITY]);

/// Bind a record to a query's values from `first` on.
void
journal_bind(SqlQuery*     query,
             int           first,
             JournalFields fields,
             const void*   record);

/// Read a record from the columns of a row from `first` on; a number that is
/// not allowed or a text that is too long makes it false.
bool
journal_unbind(SqlQuery* query, int first, JournalFields fields, void* record);

/// Put a turn of a session, and its lines where they are new; false if that
/// failed.
bool
journal_put_turn(Journal* journal, int64_t session, const JournalTurn* turn);

/// Put an idea under its ID; false if that failed.
bool
journal_put_idea(Journal* journal, JournalQuery how, const JournalIdea* idea);

/// Read the idea of an ID; false if there is none.
bool
journal_get_idea(Journal* journal, JournalId id, JournalIdea* idea);

/// Find the number of a session, 0 if there is none of that ID.
int64_t
journal_find(Journal* journal, const JournalId* id);

/// Write the library's fault: `PATH: the journal cannot be ...`.
Status
journal_failed(const Journal* journal, Fault* fault);

#endif // PROFILES_JOURNAL_INSIDE_H
