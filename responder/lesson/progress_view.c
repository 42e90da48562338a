#include "responder/lesson/progress_view.h"

#include "profiles/journal/journal.h"

#include <stdio.h>
#include <string.h>

// One turn may have missed several
static void
count_missing(void* const context, const char* const why, const unsigned n)
{
  ProgressMissing* const missing = context;
  unsigned               n_found = 0;
  missing->n_turns += n;
  for (unsigned i = 0; i < N_OUTCOME_REASONS; ++i) {
    if (strstr(why, outcome_reason(i))) {
      missing->n[i] += n;
      ++n_found;
    }
  }
  missing->n_goals += n_found ? 0 : n;
}

static Status
read_missing(ProgressView* const view, Journal* const journal, Fault* fault)
{
  ProgressMissing* const missing = &view->missing;
  return journal_whys(journal,
                      view->today - (int32_t)missing->days + 1,
                      count_missing,
                      missing,
                      &missing->n_judged,
                      fault);
}

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
  if (!status) {
    status = read_missing(view, journal, fault);
  }
  if (status) {
    journal_moves_free(&view->moves);
    journal_totals_free(&view->totals);
  }
  journal_close(journal);
  return status;
}

Status
progress_view_read(ProgressView* const view,
                   const Who* const    who,
                   const int32_t       day,
                   const unsigned      days,
                   Fault* const        fault)
{
  ProgressView read   = {.who = who, .today = day, .missing.days = days};
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
progress_missing(const ProgressMissing* const missing,
                 char                         text[PROGRESS_MISSING_CAPACITY])
{
  const bool is_all     = missing->days >= PROGRESS_ALL_DAYS;
  char       within[32] = "";
  (void)snprintf(within, sizeof(within), " in %u days", missing->days);
  int         n       = snprintf(text,
                   PROGRESS_MISSING_CAPACITY,
                   "Of %u turns%s %u did not come off: ",
                   missing->n_judged,
                   is_all ? "" : within,
                   missing->n_turns);
  const char* between = "";
  for (unsigned i = 0; i <= N_OUTCOME_REASONS; ++i) {
    const bool     is_goal = i == N_OUTCOME_REASONS;
    const unsigned times   = is_goal ? missing->n_goals : missing->n[i];
    if (times) {
      n += snprintf(text + n,
                    (size_t)(PROGRESS_MISSING_CAPACITY - n),
                    "%s%u %s",
                    between,
                    times,
                    is_goal ? "did not meet the goal of the way of playing"
                            : outcome_reason(i));
      between = ", ";
    }
  }
  if (!missing->n_turns) {
    text[0] = '\0';
  } else {
    (void)snprintf(text + n, (size_t)(PROGRESS_MISSING_CAPACITY - n), ".");
  }
  return text;
}

const char*
progress_came_off(void)
{
  return "A turn came off when it ended on a chord tone, in time for this "
         "player, led what was outside, left space and took up what was said; "
         "where a way of playing set a goal, when that was met.";
}
