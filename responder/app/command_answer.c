#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/outputs.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/converse.h"
#include "responder/lesson/kept.h"
#include "responder/lesson/warn.h"
#include "responder/tell/draw.h"
#include "responder/tell/notes_tell.h"
#include "responder/tell/tell.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

// Where what is said about a conversation goes
typedef struct {
  FILE*        stream;
  const Chart* chart;
  bool         draws;
} Telling;

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  const Telling* const telling = context;
  tell_turn(telling->stream, telling->chart, record, telling->draws);
}

static void
tell_head(const Telling* const telling, const Setup* const setup)
{
  const SessionOptions session = setup_session(setup);
  tell_chart(telling->stream, &session);
  notes_tell_legend(telling->stream);
  if (telling->draws) {
    draw_legend(telling->stream);
  }
}

// Says that a file could not be written or, on a terminal, that it was; returns
// the exit status of the latest that failed
static int
settle(const int          before,
       const Status       status,
       const char* const  path,
       const Fault* const fault)
{
  if (status) {
    return command_fail(fault);
  }
  if (isatty(STDOUT_FILENO) && strcmp(path, "-") != 0) {
    (void)printf("Written: %s\n", path);
  }
  return before;
}

static Status
write_report(Converse* const   converse,
             const char* const path,
             Fault* const      fault)
{
  return outputs_report(report_text(converse->report), path, FILE_OPEN, fault);
}

// Writes all that is asked for: what one file refuses, the others still get
static int
write_out(Converse* const converse, const Options* const options)
{
  const Watch       watch = {outputs_show, NULL};
  const char* const font  = options->soundfont;
  int               code  = EXIT_DONE;
  Fault             fault;
  if (options_have(options, OPTION_OUT)) {
    code = settle(code,
                  converse_save(converse, options->out, &fault),
                  options->out,
                  &fault);
  }
  if (options_have(options, OPTION_WAV)) {
    code = settle(code,
                  converse_render(converse, options->wav, font, &watch, &fault),
                  options->wav,
                  &fault);
  }
  if (converse->report) {
    code = settle(code,
                  write_report(converse, options->report, &fault),
                  options->report,
                  &fault);
  }
  if (options_have(options, OPTION_MUSICXML)) {
    code = settle(code,
                  converse_notate(converse, options->musicxml, &fault),
                  options->musicxml,
                  &fault);
  }
  if (options_have(options, OPTION_SCORE)) {
    code = settle(code,
                  converse_engrave(converse, options->score, &fault),
                  options->score,
                  &fault);
  }
  return code;
}

static int
converse(const Setup* const   setup,
         const Take* const    take,
         Practice* const      practice,
         const Options* const options)
{
  Telling telling = {
    .stream = outputs_stream(options),
    .chart  = &setup->chart.chart,
    .draws  = options_have(options, OPTION_DRAW),
  };
  const ConverseWish wish = {
    .reports = options_have(options, OPTION_REPORT),
    .notates = options_have(options, OPTION_MUSICXML) ||
               options_have(options, OPTION_SCORE),
    .practice  = practice,
    .hear_turn = hear_turn,
    .context   = &telling,
  };
  Converse had;
  Fault    fault;
  int      code = EXIT_DONE;
  tell_head(&telling, setup);
  if (converse_have(&had, setup, take, &wish, &fault)) {
    code = command_fail(&fault);
  } else {
    tell_summary(telling.stream, &had.summary);
    code = write_out(&had, options);
  }
  if (had.kept.status) {
    (void)command_fail(&had.kept);
    code = code ? code : EXIT_SYSTEM;
  }
  converse_free(&had);
  return code;
}

// Whether this was practice, the player says
static int
practise(const Setup* const   setup,
         const Who* const     who,
         const Take* const    take,
         const Options* const options)
{
  Practice practice;
  Fault    fault;
  if (!options_have(options, OPTION_PRACTICE)) {
    return converse(setup, take, NULL, options);
  }
  if (practice_begin(&practice, who, setup, "answer", &fault)) {
    return command_fail(&fault);
  }
  const int code = converse(setup, take, &practice, options);
  if (code) {
    practice_drop(&practice);
  } else {
    practice_end(&practice);
  }
  return code;
}

static int
replay(Setup* const setup, const Options* const options)
{
  const char* const path    = options->replay;
  Notices           notices = {.n = 0};
  Faults            faults  = {.n_faults = 0};
  Choices           then;
  Take              take;
  const Status status = converse_load_again(setup, &then, &take, path, &faults);
  int          code   = begin_loaded(setup, status, &faults);
  if (code) {
    return code;
  }
  warn_of_changes(&notices, &then, &setup->choices);
  warn_of_damage(&notices, path, &take);
  command_notice(&notices);
  code = converse(setup, &take, NULL, options);
  take_free(&take);
  return code;
}

static int
answer_taken(Setup* const         setup,
             const Who* const     who,
             const Choices* const choices,
             Take* const          take,
             const Options* const options)
{
  Faults       faults = {.n_faults = 0};
  const Status status = converse_load(setup, choices, take, &faults);
  const int    code   = begin_loaded(setup, status, &faults);
  if (code) {
    return code;
  }
  if (options_have(options, OPTION_PRACTICE)) {
    kept_offer(setup, who);
  }
  begin_changed(setup, options);
  begin_rest(take, converse_end(setup), setup->chart.chart.meter, options);
  return practise(setup, who, take, options);
}

static int
answer_file(Setup* const setup, const Options* const options)
{
  Who     who;
  Choices choices;
  Take    take;
  int     code = begin_who(&who, options);
  if (code || (code = begin_take(&choices, &take, &who, options))) {
    return code;
  }
  if (choices.makes_room &&
      choices_place(&choices, CHOICE_MAKE_ROOM) == CHOICE_BY_TAKE) {
    choices.makes_room = false; // There is room in it already
    command_say("%s was made with --make-room, and is answered as it lies over "
                "the chart; --replay makes it again",
                options->operands[0]);
  }
  if (options_have(options, OPTION_PRACTICE)) { // Only this moves the ladder
    choose_climb(&choices, &who);
  }
  code = answer_taken(setup, &who, &choices, &take, options);
  take_free(&take);
  return code;
}

// A replay brings its own choices
static bool
may_replay(const Options* const options)
{
  const OptionSet results =
    OPTION_BIT(OPTION_REPLAY) | OPTION_BIT(OPTION_OUT) |
    OPTION_BIT(OPTION_WAV) | OPTION_BIT(OPTION_SOUNDFONT) |
    OPTION_BIT(OPTION_REPORT) | OPTION_BIT(OPTION_DRAW) |
    OPTION_BIT(OPTION_MUSICXML) | OPTION_BIT(OPTION_SCORE);
  return !(options->given & ~results);
}

static int
run(const Options* const options)
{
  const bool replays = options_have(options, OPTION_REPLAY);
  if (options->n_operands != (replays ? 0 : 1)) {
    return command_misuse("answer takes one file: barter answer TAKE.mid --out "
                          "FILE.mid, or barter answer --replay FILE.mid --out "
                          "OTHER.mid");
  }
  if (replays && !may_replay(options)) {
    return command_misuse(
      "a replay brings its own choices; only --out, --wav, "
      "--soundfont, --report, --musicxml, --score and --draw go with it");
  }
  const int checked =
    outputs_check(replays ? options->replay : options->operands[0], options, 0);
  if (checked) {
    return checked;
  }
  Setup* const setup = calloc(1, sizeof(*setup));
  if (!setup) {
    return command_fail_memory();
  }
  const int code =
    replays ? replay(setup, options) : answer_file(setup, options);
  free(setup);
  return code;
}

const Command command_answer = {
  .name     = "answer",
  .operands = "TAKE.mid",
  .summary  = "answer a take: the conversation as a file",
  .words =
    "Answers each turn of a take over a chart, at the take's tempo or --tempo.",
  .options = OPTIONS_OF_SESSION | OPTION_BIT(OPTION_TRACK) |
             OPTION_BIT(OPTION_LEAD_IN) | OPTION_BIT(OPTION_OUT) |
             OPTION_BIT(OPTION_WAV) | OPTION_BIT(OPTION_SOUNDFONT) |
             OPTION_BIT(OPTION_REPORT) | OPTION_BIT(OPTION_REPLAY) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_PRACTICE) |
             OPTION_BIT(OPTION_MUSICXML) | OPTION_BIT(OPTION_SCORE) |
             OPTION_BIT(OPTION_DRAW),
  .run = run,
};
