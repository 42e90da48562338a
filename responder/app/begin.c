#include "responder/app/begin.h"

#include "profiles/choices/choices_file.h"
#include "responder/app/choosing.h"
#include "responder/app/command.h"

int
begin_who(Who* const who, const Options* const options)
{
  Faults  faults = {.n_faults = 0};
  Choices choices;
  return choices_load(&choices, &faults) ||
             who_find(who, options_learner(options), &choices, &faults)
           ? command_fail_all(&faults)
           : EXIT_DONE;
}

Choices
begin_choose(const Who* const who, const Options* const options)
{
  if (who->has_bad_journal && !options_have(options, OPTION_PRACTICE)) {
    char text[FAULT_TEXT_CAPACITY];
    command_say("%s; going on without it: move it away, or bring an export "
                "back by learner import",
                fault_text(&who->journal_fault, text, sizeof(text)));
  }
  return choose(who, &options->asked);
}

int
begin_setup(Setup* const setup, const Choices* const choices)
{
  Faults       faults = {.n_faults = 0};
  const Status status = setup_load(setup, choices, &faults);
  if (setup->of_sentences.n_faults) {
    (void)command_fail_all(&setup->of_sentences);
    command_say("the sentences built in are used instead");
  }
  return status ? command_fail_all(&faults) : EXIT_DONE;
}
