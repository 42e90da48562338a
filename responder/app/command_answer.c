#include "responder/app/command.h"

#include "responder/app/conversation.h"
#include "responder/app/recording.h"
#include "responder/app/report.h"
#include "responder/app/setup.h"
#include "responder/app/take.h"
#include "responder/app/tell.h"
#include "responder/app/warn.h"
#include "responder/session/summary.h"

#include <stdlib.h>
#include <string.h>

// Where what is said about a conversation goes
typedef struct {
  const Chart* chart;
  FILE*        stream;
  Report*      report; ///< NULL if none is wanted
  Summary      summary;
} Telling;

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Telling* const telling = context;
  if (record->turn.by_player) {
    summary_add(&telling->summary, &record->phrase);
  }
  tell_turn(telling->stream, telling->chart, record);
  if (telling->report) {
    report_add_turn(telling->report, record);
  }
}

// Choruses that hold the whole take
static unsigned
choruses_for(const Take* const take, const Chart* const chart)
{
  const Tick form     = chart_ticks(chart);
  const Tick choruses = (take->end + form - 1) / form;
  return (unsigned)(choruses < 1 ? 1 : choruses > 99 ? 99 : choruses);
}

static Status
converse(Setup* const         setup,
         const Take* const    take,
         const Options* const options,
         Conversation* const  conversation,
         Fault* const         fault)
{
  const SessionOptions session = setup_session(setup);
  const ReportHead     head    = {
           .chart         = session.chart,
           .feel          = setup->feel.name,
           .tempo_bpm     = session.tempo_bpm,
           .seed          = session.seed,
           .bars_per_turn = session.bars_per_turn,
  };
  const bool reports    = options_have(options, OPTION_REPORT);
  const bool is_to_talk = reports && strcmp(options->report, "-") == 0;
  Telling    telling    = {
          .chart  = session.chart,
          .stream = is_to_talk ? stderr : stdout,
          .report = reports ? report_open(&head) : NULL,
  };
  HeardKey* keys   = NULL;
  size_t    n_keys = 0;
  Status    status = take_keys(take, &keys, &n_keys);
  if (!status) {
    tell_chart(telling.stream, &session, setup->choices.feel);
    tell_legend(telling.stream);
    status = conversation_run(
      conversation, &session, keys, n_keys, hear_turn, &telling);
  }
  free(keys);
  if (status) {
    (void)fault_set(fault, status, NULL, 0, "%s", status_text(status));
  } else {
    tell_summary(telling.stream, &telling.summary);
    if (telling.report) {
      report_add_summary(telling.report, &telling.summary);
      status = report_write(telling.report, options->report, fault);
    }
    if (status) {
      conversation_free(conversation);
    }
  }
  report_close(telling.report);
  return status;
}

static int
write_out(const Setup* const        setup,
          const Conversation* const conversation,
          const Options* const      options)
{
  Fault fault;
  if (options_have(options, OPTION_OUT) &&
      recording_save(conversation, setup, options->out, &fault)) {
    return command_fail(&fault);
  }
  if (options_have(options, OPTION_WAV) &&
      recording_render(
        conversation, setup, options->wav, options->soundfont, &fault)) {
    return command_fail(&fault);
  }
  return EXIT_DONE;
}

static int
answer_take(Setup* const         setup,
            const Take* const    take,
            const Options* const options)
{
  Fault        fault;
  Conversation conversation;
  if (converse(setup, take, options, &conversation, &fault)) {
    return command_fail(&fault);
  }
  const int code = write_out(setup, &conversation, options);
  conversation_free(&conversation);
  return code;
}

// A recording counts from its count-in; the session counts from bar 1
static void
shift_take(Take* const take, const Tick by)
{
  for (size_t i = 0; i < take->n_notes; ++i) {
    take->notes[i].tick += by;
  }
  take->end += by;
}

static void
warn_of_changes(const Choices* const then, const Choices* const now)
{
  static const char* const names[] = {"chart", "feel", "ladder"};
  for (unsigned i = 0; i < 3; ++i) {
    if (then->sums[i] != now->sums[i]) {
      (void)fprintf(stderr,
                    "barter: the %s has changed since this was recorded; the "
                    "answers may differ\n",
                    names[i]);
    }
  }
}

static int
replay(Setup* const setup, const Options* const options)
{
  const char* const path   = options->replay;
  Faults            faults = {.n_faults = 0};
  Fault             fault;
  Choices           choices;
  Tick              bar_one = 0;
  Take              take;
  if (recording_choices(&choices, &bar_one, path, &fault)) {
    return command_fail(&fault);
  }
  if (setup_load(setup, &choices, &faults)) {
    return command_fail_all(&faults);
  }
  warn_of_changes(&choices, &setup->choices);
  if (take_load(&take, path, (TakeChoice){.track = "player"}, &fault)) {
    return command_fail(&fault);
  }
  shift_take(&take, -bar_one);
  const int code = answer_take(setup, &take, options);
  take_free(&take);
  return code;
}

static int
answer_file(Setup* const         setup,
            const char* const    path,
            const Options* const options)
{
  Faults           faults = {.n_faults = 0};
  Fault            fault;
  Choices          choices;
  Take             take;
  const TakeChoice choice = {
    options_have(options, OPTION_TRACK) ? options->track : NULL,
    options->lead_in_beats,
  };
  if (setup_choose(&choices, options, &faults)) {
    return command_fail_all(&faults);
  }
  if (take_load(&take, path, choice, &fault)) {
    return command_fail(&fault);
  }
  warn_of_take(path, &take.file.warnings);
  if (!options_have(options, OPTION_TEMPO)) {
    choices.tempo_bpm = take.tempo_bpm;
  }
  int code = EXIT_USE;
  if (setup_load(setup, &choices, &faults)) {
    code = command_fail_all(&faults);
  } else {
    const Chart* const chart = &setup->chart.chart;
    if (choices.makes_room) {
      take_make_room(&take,
                     choices.bars * meter_bar_ticks(chart->meter),
                     meter_beat_ticks(chart->meter) / 2,
                     choices.partner_begins);
    }
    if (!choices.choruses) {
      setup->choices.choruses = choruses_for(&take, chart);
    }
    code = answer_take(setup, &take, options);
  }
  take_free(&take);
  return code;
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
  Setup* const setup = calloc(1, sizeof(*setup));
  if (!setup) {
    return command_misuse("%s", status_text(STATUS_MEMORY));
  }
  const int code = replays ? replay(setup, options)
                           : answer_file(setup, options->operands[0], options);
  free(setup);
  return code;
}

const Command command_answer = {
  .name     = "answer",
  .operands = "TAKE.mid",
  .summary  = "answer a take: the conversation as a file",
  .words =
    "Plays the take over a chart, turn by turn, and answers each of the\n"
    "player's turns. Tells what was heard and what was answered and why.\n"
    "The tempo is the take's unless --tempo says otherwise.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_CHORUSES) |
             OPTION_BIT(OPTION_FIRST) | OPTION_BIT(OPTION_RUNG) |
             OPTION_BIT(OPTION_SEED) | OPTION_BIT(OPTION_TRACK) |
             OPTION_BIT(OPTION_LEAD_IN) | OPTION_BIT(OPTION_MAKE_ROOM) |
             OPTION_BIT(OPTION_OUT) | OPTION_BIT(OPTION_WAV) |
             OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_REPORT) |
             OPTION_BIT(OPTION_REPLAY),
  .run = run,
};
