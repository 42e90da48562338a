#include "responder/app/ideas_desk.h"

#include "responder/app/begin.h"
#include "responder/app/command.h"
#include "responder/app/intake.h"
#include "responder/app/kept.h"
#include "responder/app/sessions.h"

#include <stdlib.h>
#include <string.h>

int
desk_load(Desk* const desk, const Choices* const choices)
{
  return begin_setup(&desk->setup, choices);
}

static int
open_take(Desk* const desk)
{
  const Options* const options = desk->options;
  Choices              choices;
  Take                 take;
  Fault                fault;
  int                  code = intake(&choices, &take, &desk->who, options);
  if (code) {
    return code;
  }
  code = desk_load(desk, &choices);
  if (!code) {
    code = command_end(
      opening_of_take(&desk->opening, &desk->setup, &take, desk->span, &fault),
      &fault);
  }
  take_free(&take);
  return code;
}

// Which of the notebook is meant; 0 and a fault said if there is no such one
static size_t
kept_number(const Desk* const desk)
{
  const char* const text = desk->options->operands[0];
  char*             end  = NULL;
  const long        n    = strtol(text, &end, 10);
  if (end == text || *end || n < 1 || (size_t)n > desk->kept.n_ideas) {
    (void)command_misuse("--kept %.40s: the notebook of %s holds %zu idea%s; "
                         "barter ideas --kept lists them",
                         text,
                         desk->who.learner.name,
                         desk->kept.n_ideas,
                         desk->kept.n_ideas == 1 ? "" : "s");
    return 0;
  }
  return (size_t)n;
}

static int
lay_kept(Desk* const desk, const size_t number)
{
  const JournalIdea* const kept  = &desk->kept.ideas[number - 1];
  const Meter              meter = desk->setup.chart.chart.meter;
  Idea                     idea;
  unsigned                 tonic = 0;
  char                     text[METER_TEXT_CAPACITY];
  if (!kept_idea(kept, &idea, &tonic)) {
    return command_misuse("idea %zu of the notebook is damaged", number);
  }
  if (strcmp(kept->meter, meter_text(meter, text)) != 0) {
    return command_misuse("idea %zu of the notebook is in %s, the chart %s in "
                          "%s; --chart chooses another",
                          number,
                          kept->meter,
                          desk->setup.choices.chart,
                          text);
  }
  opening_of_idea(&desk->opening, &desk->setup, idea, tonic, desk->span);
  (void)snprintf(desk->opening.words,
                 sizeof(desk->opening.words),
                 "Idea %zu of the notebook, a %s",
                 number,
                 kept->origin);
  return EXIT_DONE;
}

static int
open_kept(Desk* const desk, const Choices* const choices)
{
  const size_t number = kept_number(desk);
  if (!number) {
    return EXIT_USE;
  }
  const int code = desk_load(desk, choices);
  return code ? code : lay_kept(desk, number);
}

static int
open_suggestion(Desk* const desk, const Choices* const choices)
{
  Fault     fault;
  const int code = desk_load(desk, choices);
  return code ? code
              : command_end(opening_suggest(
                              &desk->opening, &desk->setup, desk->span, &fault),
                            &fault);
}

// Whoever says what to play over does not mean the last session
static bool
may_recall(const Options* const options)
{
  const OptionSet own = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
                        OPTION_BIT(OPTION_FEEL) | OPTION_BIT(OPTION_TEMPO) |
                        OPTION_BIT(OPTION_SPAN);
  return !(options->given & own);
}

// Goes on from the last session if there is one with a note of the player's
static int
open_session(Desk* const desk, const Choices* const choices)
{
  SessionFound session;
  Fault        fault;
  Status       status = may_recall(desk->options)
                          ? sessions_latest(&session, &desk->who, &fault)
                          : STATUS_MISSING;
  if (!status && !desk_load(desk, &session.choices)) {
    status = opening_of_recording(
      &desk->opening, &desk->setup, session.path, session.bar_one, &fault);
    desk->setup.choices.rung = choices->rung;
    desk->setup.choices.seed = choices->seed;
    memcpy(
      desk->setup.choices.control, choices->control, sizeof(choices->control));
  }
  if (!status) { // The learner's own rung, or where the ladder begins
    for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
      uint8_t* const level = &desk->setup.choices.rung.level[i];
      *level = *level ? *level : desk->setup.ladder.start.level[i];
    }
    return EXIT_DONE;
  }
  return status == STATUS_MISSING ? open_suggestion(desk, choices)
                                  : command_fail(&fault);
}

int
desk_open(Desk* const desk)
{
  const Options* const options = desk->options;
  if (options->n_operands && !options_have(options, OPTION_KEPT)) {
    return open_take(desk);
  }
  const Choices choices = begin_choose(&desk->who, options);
  return options_have(options, OPTION_KEPT) ? open_kept(desk, &choices)
                                            : open_session(desk, &choices);
}
