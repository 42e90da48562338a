#include "responder/lesson/practised.h"

#include <stdbool.h>
#include <stddef.h>

Status
practised_read(JournalTotals* const totals,
               JournalMoves* const  moves,
               const Person* const  person,
               Fault* const         fault)
{
  Journal*      journal = NULL;
  JournalTotals read    = {.n_totals = 0};
  JournalMoves  moved   = {.n_moves = 0};
  Status        status =
    journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, fault);
  const bool is_new = status == STATUS_MISSING;
  if (!status) {
    status = journal_totals(journal, &read, fault);
  }
  if (!status && moves) {
    status = journal_moves(journal, &moved, fault);
  }
  journal_close(journal);
  if (status && !is_new) {
    journal_totals_free(&read);
    return status;
  }
  *totals = read;
  if (moves) {
    *moves = moved;
  }
  return STATUS_OK;
}
