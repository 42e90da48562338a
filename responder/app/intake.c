#include "responder/app/intake.h"

#include "responder/app/begin.h"
#include "responder/app/command.h"
#include "responder/app/warn.h"

int
intake(Choices* const       choices,
       Take* const          take,
       const Who* const     who,
       const Options* const options)
{
  const char* const path = options->operands[0];
  Fault             fault;
  *choices                = begin_choose(who, options);
  const TakeChoice choice = {
    options_have(options, OPTION_TRACK) ? options->track : NULL,
    options->lead_in_beats,
  };
  if (take_load(take, path, choice, &fault)) {
    return command_fail(&fault);
  }
  warn_of_take(path, take);
  if (!said_has(&options->asked, CHOICE_TEMPO)) {
    choices->tempo_bpm = take_tempo(take);
    choices_mark(choices, CHOICE_TEMPO, CHOICE_BY_TAKE, 0);
    warn_of_tempo(path, take, choices->tempo_bpm);
  }
  if (!said_has(&options->asked, CHOICE_CHORUSES)) {
    choices->choruses = 0;
    choices_mark(choices, CHOICE_CHORUSES, CHOICE_BY_TAKE, 0);
  }
  return EXIT_DONE;
}
