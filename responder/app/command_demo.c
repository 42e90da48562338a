#include "responder/app/command.h"

#include "core/settings/places.h"

#include <stdio.h>

// All that the bundled conversation is played over, whatever the person's own
// settings are
static const struct {
  Choice      choice;
  const char* text;
} told[] = {
  {CHOICE_CHART, "blues"},
  {CHOICE_KEY, "C"},
  {CHOICE_FEEL, "swing"},
  {CHOICE_BARS, "2"},
  {CHOICE_CHORUSES, "2"},
  {CHOICE_FIRST, "player"},
  {CHOICE_RUNG, "notes=6,rhythm=4,shape=5,ornament=2"},
};

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
  for (unsigned i = 0; i < sizeof(told) / sizeof(*told); ++i) {
    if (said_add(&demo.asked, told[i].choice, "demo", told[i].text, &fault)) {
      return command_fail(&fault);
    }
  }
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
