#include "responder/lesson/progress_view.h"

#include "profiles/journal/journal.h"

static Status
read_journal(ProgressView* const view, Fault* const fault)
{
  Journal* journal = NULL;
  Status   status  = journal_open(
    &journal, view->who->person.journal, JOURNAL_MUST_EXIST, fault);
  if (status == STATUS_MISSING) {
    return STATUS_OK;
  }
  if (!status) {
    status = journal_totals(journal, &view->totals, fault);
  }
  if (!status) {
    status = journal_moves(journal, &view->moves, fault);
  }
  if (status) {
    journal_totals_free(&view->totals);
  }
  journal_close(journal);
  return status;
}

Status
progress_view_read(ProgressView* const view,
                   const Who* const    who,
                   const int32_t       day,
                   Fault* const        fault)
{
  ProgressView read   = {.who = who, .today = day};
  const Status status = who->is_there ? read_journal(&read, fault) : STATUS_OK;
  if (!status) {
    *view          = read;
    view->progress = progress_of(&view->totals, day);
  }
  return status;
}

void
progress_view_free(ProgressView* const view)
{
  journal_totals_free(&view->totals);
  journal_moves_free(&view->moves);
}

const char*
progress_came_off(void)
{
  return "A turn came off when it ended on a chord tone, in time for this "
         "player, led what was outside, left space and took up what was said; "
         "where a way of playing set a goal, when that was met.";
}
