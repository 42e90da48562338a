#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/outputs.h"
#include "responder/lesson/listen.h"
#include "responder/record/notation.h"
#include "responder/record/recorded.h"
#include "responder/tell/draw.h"
#include "responder/tell/notes_tell.h"
#include "responder/tell/tell.h"

#include <stdlib.h>

// What hearing a take needs, kept in one piece
typedef struct {
  Who       who;
  Setup     setup;
  Listening listening;
  Notation* notation; ///< NULL if none is wanted
  FILE*     stream;
  bool      draws;
} Hearer;

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  const Hearer* const hearer = context;
  const Chart* const  chart  = &hearer->setup.chart.chart;
  tell_phrases(hearer->stream, chart, record);
  if (hearer->draws) {
    draw_phrase(hearer->stream, chart, &record->phrase);
  }
  if (hearer->notation) {
    notation_add_turn(hearer->notation, record);
  }
}

static Status
open_notation(Hearer* const hearer)
{
  const SessionOptions session = setup_session(&hearer->setup);
  const NotationHead   head    = {
         .ear         = session_ear(&session),
         .swing_ratio = feel_swing_ratio(session.feel, session.tempo_bpm),
         .is_excerpt  = true,
  };
  hearer->notation = notation_open(&head);
  return hearer->notation ? STATUS_OK : STATUS_MEMORY;
}

static int
engrave(Hearer* const hearer, const Options* const options)
{
  Fault fault;
  return hearer->notation && notation_engrave(hearer->notation,
                                              hearer->setup.chart.chart.title,
                                              options->score,
                                              &fault)
           ? command_fail(&fault)
           : EXIT_DONE;
}

static int
listen(Hearer* const        hearer,
       const Take* const    take,
       const Options* const options)
{
  const ReportHead head    = recorded_report_head(&hearer->setup);
  const bool       reports = options_have(options, OPTION_REPORT);
  Report* const    report  = reports ? report_open(&head) : NULL;
  Fault            fault;
  if ((reports && !report) ||
      (options_have(options, OPTION_SCORE) && open_notation(hearer))) {
    report_close(report);
    return command_fail_memory();
  }
  hearer->stream = outputs_stream(options);
  hearer->draws  = options_have(options, OPTION_DRAW);
  notes_tell_legend(hearer->stream);
  if (hearer->draws) {
    draw_legend(hearer->stream);
  }
  listen_to_take(
    &hearer->listening, &hearer->setup, take, report, hear_turn, hearer);
  tell_summary(hearer->stream, &hearer->listening.summary);
  const int code =
    report &&
        outputs_report(report_text(report), options->report, FILE_OPEN, &fault)
      ? command_fail(&fault)
      : EXIT_DONE;
  const int engraved = engrave(hearer, options);
  report_close(report);
  notation_close(hearer->notation);
  return code ? code : engraved;
}

static int
hear_file(Hearer* const hearer, const Options* const options)
{
  Choices choices;
  Take    take;
  int     code = begin_who(&hearer->who, options);
  if (code || (code = begin_take(&choices, &take, &hearer->who, options))) {
    return code;
  }
  code = begin_setup(&hearer->setup, &choices);
  if (!code) {
    begin_changed(&hearer->setup, options);
    begin_rest(&take,
               listen_end(&hearer->setup),
               hearer->setup.chart.chart.meter,
               options);
    code = listen(hearer, &take, options);
  }
  take_free(&take);
  return code;
}

static int
run(const Options* const options)
{
  if (options->n_operands != 1) {
    return command_misuse("hear takes one file: barter hear TAKE.mid");
  }
  const int checked = outputs_check(options->operands[0], options, 0);
  if (checked) {
    return checked;
  }
  Hearer* const hearer = calloc(1, sizeof(*hearer));
  if (!hearer) {
    return command_fail_memory();
  }
  const int code = hear_file(hearer, options);
  free(hearer);
  return code;
}

const Command command_hear = {
  .name     = "hear",
  .operands = "TAKE.mid",
  .summary  = "what the listener makes of a take",
  .words =
    "Hears a take over a chart, --bars at a time: its rhythm, the part each\n"
    "note plays in its chord, the note it aims at. Nobody answers.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_TRACK) |
             OPTION_BIT(OPTION_LEAD_IN) | OPTION_BIT(OPTION_REPORT) |
             OPTION_BIT(OPTION_DRAW) | OPTION_BIT(OPTION_SCORE) |
             OPTION_BIT(OPTION_LEARNER),
  .run = run,
};
