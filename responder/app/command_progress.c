#include "responder/app/command.h"

#include "profiles/choices/choices_file.h"
#include "responder/app/outputs.h"
#include "responder/lesson/progress_view.h"
#include "responder/lesson/today.h"
#include "responder/lesson/who.h"
#include "responder/tell/progress_tell.h"

static int
show(const ProgressView* const view, const Options* const options)
{
  int   code = EXIT_DONE;
  Fault fault;
  progress_tell(outputs_stream(options), view);
  if (options_have(options, OPTION_REPORT) &&
      outputs_report(
        progress_report(view), options->report, FILE_PRIVATE, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_PICTURE)) {
    if (progress_draw(view, options->picture, &fault)) {
      return command_fail(&fault);
    }
    (void)fprintf(
      outputs_stream(options), "\nThe picture is in %s.\n", options->picture);
  }
  return code;
}

static int
run(const Options* const options)
{
  Faults       faults = {.n_faults = 0};
  Fault        fault;
  Choices      choices;
  Who          who;
  ProgressView view;
  if (options->n_operands) {
    return command_misuse("progress takes no file; --learner ID says whose");
  }
  const int checked = outputs_check(NULL, options, 0);
  if (checked) {
    return checked;
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
  if (progress_view_read(&view, &who, today(), PROGRESS_RECENT, &fault)) {
    return command_fail(&fault);
  }
  const int shown = show(&view, options);
  progress_view_free(&view);
  return known ? known : shown;
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
