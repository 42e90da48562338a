#include "responder/app/command.h"

#include "core/settings/places.h"

#include <stdio.h>

// The bundled conversation: its take, and all that it is played over, whatever
// the person's own defaults are
static int
run(const Options* const options)
{
  char  take[PLACE_PATH_CAPACITY];
  Fault fault;
  if (options->n_operands) {
    return command_misuse(
      "demo brings its own take; barter answer takes yours");
  }
  if (place_find_file("demo.mid", take, &fault)) {
    return command_fail(&fault);
  }

  char*   operands[] = {take};
  Options demo       = *options;
  demo.given |= OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
                OPTION_BIT(OPTION_FEEL) | OPTION_BIT(OPTION_BARS) |
                OPTION_BIT(OPTION_CHORUSES) | OPTION_BIT(OPTION_FIRST) |
                OPTION_BIT(OPTION_RUNG);
  demo.chart      = "blues";
  demo.key        = "C";
  demo.feel       = "swing";
  demo.bars       = 2;
  demo.choruses   = 2;
  demo.rung       = "notes=6,rhythm=4,shape=5,ornament=2";
  demo.is_nobodys = true;
  demo.operands   = operands;
  demo.n_operands = 1;
  return command_answer.run(&demo);
}

const Command command_demo = {
  .name     = "demo",
  .operands = "",
  .summary  = "the bundled conversation, answered",
  .words =
    "Answers a take that comes with barter: two choruses of a blues in C,\n"
    "two bars each, with a silent turn and a crowded one.",
  .options = OPTION_BIT(OPTION_SEED) | OPTION_BIT(OPTION_OUT) |
             OPTION_BIT(OPTION_WAV) | OPTION_BIT(OPTION_SOUNDFONT) |
             OPTION_BIT(OPTION_REPORT),
  .run = run,
};
