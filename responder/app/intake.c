#include "responder/app/intake.h"

#include "responder/app/command.h"
#include "responder/app/warn.h"

int
intake(Choices* const choices, Take* const take, const Options* const options)
{
  const char* const path   = options->operands[0];
  Faults            faults = {.n_faults = 0};
  Fault             fault;
  if (setup_choose(choices, options, &faults)) {
    return command_fail_all(&faults);
  }
  const TakeChoice choice = {
    options_have(options, OPTION_TRACK) ? options->track : NULL,
    options->lead_in_beats,
  };
  if (take_load(take, path, choice, &fault)) {
    return command_fail(&fault);
  }
  warn_of_take(path, take);
  if (!options_have(options, OPTION_TEMPO)) {
    choices->tempo_bpm = take_tempo(take);
    warn_of_tempo(path, take, choices->tempo_bpm);
  }
  return EXIT_DONE;
}
