#include "responder/app/command.h"

#include "core/settings/places.h"
#include "profiles/choices/choices_file.h"
#include "responder/app/begin.h"
#include "responder/app/outputs.h"
#include "responder/setup/in_force.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_CAPACITY = ROW_TEXT_CAPACITY + 64 };

// All that was loaded; large, so kept in place
typedef struct {
  Who   who;
  Setup setup;
} Holding;

static void
tell_choice(FILE* const stream, const Setup* const setup, const Choice choice)
{
  const Row* const row = &choice_row(choice)->row;
  char             text[ROW_TEXT_CAPACITY];
  char             value[LINE_CAPACITY];
  char             from[CHOICES_FROM_CAPACITY];
  (void)snprintf(value,
                 sizeof(value),
                 "%s%s%s",
                 in_force_text(setup, choice, text),
                 row->unit ? " " : "",
                 row->unit ? row->unit : "");
  (void)fprintf(stream,
                "  %-23s %-26s %s\n",
                row->name,
                command_one_line(value),
                choices_from(&setup->choices, choice, from));
}

static void
tell_file(FILE* const stream, const char* const name)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault none;
  if (!place_find_file(name, path, &none)) {
    (void)fprintf(stream, "  %-23s %s\n", name, command_one_line(path));
  }
}

// Where the files are: a line of one is of no use without
static void
tell_files(FILE* const stream, const Holding* const holding)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault none;
  (void)fputs("\nThe files:\n", stream);
  tell_file(stream, "barter.cfg");
  tell_file(stream, CHOICES_EQUIPMENT_FILE);
  tell_file(stream, "ladder.cfg");
  tell_file(stream, "sentences.cfg");
  if (!place_find(PLACE_CHARTS, holding->setup.choices.chart, path, &none)) {
    (void)fprintf(stream, "  %-23s %s\n", "chart", command_one_line(path));
  }
  if (holding->who.is_there) {
    (void)fprintf(
      stream, "  %-23s %s\n", "learner.cfg", holding->who.person.settings);
  }
}

static void
tell(FILE* const stream, const Holding* const holding)
{
  (void)fprintf(stream, "What holds for %s:\n", holding->who.learner.name);
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (in_force_is_told((Choice)i)) {
      tell_choice(stream, &holding->setup, (Choice)i);
    }
  }
  tell_files(stream, holding);
}

static int
list(Holding* const holding, const Options* const options)
{
  const bool reports = options_have(options, OPTION_REPORT);
  Fault      fault;
  int        code = begin_who(&holding->who, options);
  if (code) {
    return code;
  }
  const Choices choices = begin_choose(&holding->who, options);
  code                  = begin_setup(&holding->setup, &choices);
  if (code) {
    return code;
  }
  tell(reports && strcmp(options->report, "-") == 0 ? stderr : stdout, holding);
  return reports && outputs_report(in_force_report(&holding->setup,
                                                   holding->who.learner.name),
                                   options->report,
                                   FILE_PRIVATE,
                                   &fault)
           ? command_fail(&fault)
           : EXIT_DONE;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("settings takes no file; barter check FILE looks one "
                          "over");
  }
  Holding* const holding = calloc(1, sizeof(*holding));
  if (!holding) {
    return command_fail_memory();
  }
  const int code = list(holding, options);
  free(holding);
  return code;
}

const Command command_settings = {
  .name     = "settings",
  .operands = "",
  .summary  = "every choice in force, and where it comes from",
  .words =
    "Lists what a session would be played by: each choice, its value, and who\n"
    "said it. Of two, the later in this row wins: default, chart, ladder.cfg,\n"
    "barter.cfg, equipment.cfg, learner.cfg, journal, an option. A take "
    "brings\n"
    "its own tempo and length, and a live session a new seed, unless an "
    "option\n"
    "or, of the seed, barter.cfg names one.",
  .options = OPTIONS_OF_SESSION | OPTION_BIT(OPTION_CONTROL) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_REPORT),
  .run = run,
};
