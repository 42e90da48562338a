#include "responder/app/command.h"

#include "profiles/choices/choices_file.h"
#include "profiles/journal/journal.h"
#include "responder/app/outputs.h"
#include "responder/app/progress_view.h"
#include "responder/app/today.h"
#include "responder/app/who.h"

#include <stdio.h>
#include <string.h>

/// Read what was practised; nothing is there to read before the first time.
static Status
read_journal(const Who* const     who,
             JournalTotals* const totals,
             ProgressView* const  view,
             Fault* const         fault)
{
  Journal* journal = NULL;
  *totals          = (JournalTotals){.n_totals = 0};
  view->moves      = (JournalMoves){.n_moves = 0};
  if (!who->is_there) {
    return STATUS_OK;
  }
  Status status =
    journal_open(&journal, who->person.journal, JOURNAL_MUST_EXIST, fault);
  if (status == STATUS_MISSING) {
    return STATUS_OK;
  }
  if (!status) {
    status = journal_totals(journal, totals, fault);
  }
  if (!status) {
    status = journal_moves(journal, &view->moves, fault);
  }
  if (status) {
    journal_totals_free(totals);
  }
  journal_close(journal);
  return status;
}

static int
show(const ProgressView* const view, const Options* const options)
{
  const bool  reports = options_have(options, OPTION_REPORT);
  const bool  draws   = options_have(options, OPTION_PICTURE);
  FILE* const stream =
    reports && strcmp(options->report, "-") == 0 ? stderr : stdout;
  int   code = EXIT_DONE;
  Fault fault;
  progress_tell(stream, view);
  if (reports &&
      outputs_report(
        progress_report(view), options->report, FILE_PRIVATE, &fault)) {
    code = command_fail(&fault);
  }
  if (draws && progress_draw(view, options->picture, &fault)) {
    code = command_fail(&fault);
  }
  return code;
}

static int
run(const Options* const options)
{
  Faults        faults = {.n_faults = 0};
  Fault         fault;
  Choices       choices;
  Who           who;
  JournalTotals totals;
  if (options->n_operands) {
    return command_misuse("progress takes no file; --learner ID says whose");
  }
  if (choices_load(&choices, &faults)) {
    return command_fail_all(&faults);
  }
  // Settings that are at fault hide nothing of what was practised
  who.has_place = false;
  const Status found =
    who_find(&who, options_learner(options), &choices, &faults);
  const int known = found ? command_fail_all(&faults) : EXIT_DONE;
  if (found && !who.has_place) {
    return known;
  }
  ProgressView view = {.who = &who, .today = today(), .totals = &totals};
  if (read_journal(&who, &totals, &view, &fault)) {
    return command_fail(&fault);
  }
  view.progress   = progress_of(&totals, view.today);
  const int shown = show(&view, options);
  const int code  = known ? known : shown;
  journal_totals_free(&totals);
  journal_moves_free(&view.moves);
  return code;
}

const Command command_progress = {
  .name     = "progress",
  .operands = "",
  .summary  = "the way come: days, time, rungs and how the playing changed",
  .words =
    "Tells of the days and minutes practised, and how landing, timing, space\n"
    "and swing changed, by day, week or month; --picture draws it.",
  .options = OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_REPORT) |
             OPTION_BIT(OPTION_PICTURE),
  .run = run,
};
