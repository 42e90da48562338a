#include "responder/app/command.h"

#include "profiles/files/check.h"

#include <stdio.h>

static int
check_one(const char* const path)
{
  Faults faults = {.n_faults = 0};
  if (!check_file(path, &faults)) {
    (void)printf("%s: good\n", path);
    return EXIT_DONE;
  }
  for (unsigned i = 0; i < faults.n_faults; ++i) {
    char text[FAULT_TEXT_CAPACITY];
    (void)fault_text(&faults.faults[i], text, sizeof(text));
    (void)printf("%s\n", command_one_line(text));
  }
  if (faults.n_lost) {
    (void)printf("%s: and %u more\n", path, faults.n_lost);
  }
  return EXIT_NO;
}

static int
run(const Options* const options)
{
  if (!options->n_operands) {
    return command_misuse("check takes files: barter check FILE...");
  }
  int code = EXIT_DONE;
  for (unsigned i = 0; i < options->n_operands; ++i) {
    code = check_one(options->operands[i]) == EXIT_NO ? EXIT_NO : code;
  }
  return code;
}

const Command command_check = {
  .name     = "check",
  .operands = "FILE...",
  .summary  = "look over charts, feels and settings",
  .words =
    "Says of each file whether it is good, and else what is wrong with it,\n"
    "line by line, and what would be right.\n"
    "barter charts lists the names that a chart's feel and scale may have.",
  .options = 0,
  .run     = run,
};
