#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/intake.h"
#include "responder/app/outputs.h"
#include "responder/app/warn.h"
#include "responder/record/report.h"
#include "responder/record/take.h"
#include "responder/session/remark.h"
#include "responder/session/summary.h"
#include "responder/setup/setup.h"
#include "responder/tell/draw.h"
#include "responder/tell/tell.h"

#include <stdlib.h>
#include <string.h>

// What hearing a take needs, kept in one piece
typedef struct {
  Setup      setup;
  HearWork   work;
  Ideas      ideas;
  Remarks    remarks;
  Summary    summary;
  TurnRecord record;
  Report*    report; ///< NULL if none is wanted
  FILE*      stream;
  bool       draws;
} Listening;

// Hears the notes of a turn that belong to it, from `first` on; returns the
// first that belongs to the next
static size_t
hear_turn(Listening* const  listening,
          const Take* const take,
          const size_t      first,
          const Turn        turn)
{
  const SessionOptions options = setup_session(&listening->setup);
  const Tick           pick_up = meter_beat_ticks(options.chart->meter) / 2;
  const Ear            ear     = session_ear(&options);
  size_t               last    = first;
  while (last < take->n_notes && take->notes[last].tick < turn.end - pick_up) {
    ++last;
  }

  TurnRecord* const record = &listening->record;
  *record                  = (TurnRecord){.turn = turn};
  hear_phrase(&record->phrase,
              &listening->work,
              &ear,
              take->notes + first,
              (unsigned)(last - first),
              turn.start,
              turn.end);
  const Idea idea = idea_of(&record->phrase, true);
  record->idea    = ideas_meet(&listening->ideas, &idea, &record->likeness);
  remark_turn(&listening->remarks,
              session_sentences(&options),
              options.chart,
              &record->phrase,
              !record->phrase.n_notes,
              1,
              record->remark);
  summary_add(&listening->summary, &record->phrase);
  return last;
}

// The end of what is heard: choruses enough for any take, few enough for a
// stray note at the end of time
static Tick
hearing_end(const Take* const take, const Chart* const chart)
{
  const Tick pick_up = meter_beat_ticks(chart->meter) / 2;
  const Tick most    = CHORUSES_MOST * chart_ticks(chart);
  const Tick end     = take->last + pick_up + 1;
  return end < most ? end : most;
}

static void
hear_take(Listening* const listening, const Take* const take)
{
  const SessionOptions options = setup_session(&listening->setup);
  const TurnPlan       plan    = session_turn_plan(&options);
  const Tick           end     = hearing_end(take, options.chart);
  const Tick           pick_up = meter_beat_ticks(options.chart->meter) / 2;
  size_t               next    = 0;
  while (next < take->n_notes && take->notes[next].tick < -pick_up) {
    ++next;
  }
  // Every turn is the player's: nobody answers
  for (Turn turn = turn_at(plan, 1); turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    turn.by_player = true;
    next           = hear_turn(listening, take, next, turn);
    tell_phrases(listening->stream, options.chart, &listening->record);
    if (listening->draws) {
      draw_phrase(listening->stream, options.chart, &listening->record.phrase);
    }
    if (listening->report) {
      report_add_turn(listening->report, &listening->record);
    }
  }
}

static int
listen(Listening* const     listening,
       const Take* const    take,
       const Options* const options)
{
  const SessionOptions session = setup_session(&listening->setup);
  const bool           reports = options_have(options, OPTION_REPORT);
  if (reports) {
    const ReportHead head = {
      .chart         = session.chart,
      .feel          = listening->setup.feel.name,
      .tempo_bpm     = session.tempo_bpm,
      .seed          = session.seed,
      .bars_per_turn = session.bars_per_turn,
    };
    listening->report = report_open(&head);
    if (!listening->report) {
      return command_fail_memory();
    }
  }
  listening->stream =
    reports && strcmp(options->report, "-") == 0 ? stderr : stdout;
  listening->summary.sentences = session.sentences;
  tell_legend(listening->stream);
  listening->draws = options_have(options, OPTION_DRAW);
  if (listening->draws) {
    draw_legend(listening->stream);
  }
  hear_take(listening, take);
  tell_summary(listening->stream, &listening->summary);

  Fault fault;
  int   code = EXIT_DONE;
  if (listening->report) {
    report_add_summary(listening->report, &listening->summary);
    if (outputs_report(
          report_text(listening->report), options->report, FILE_OPEN, &fault)) {
      code = command_fail(&fault);
    }
    report_close(listening->report);
  }
  return code;
}

static int
hear_file(Listening* const listening, const Options* const options)
{
  Who     who;
  Choices choices;
  Take    take;
  int     code = begin_who(&who, options);
  if (code || (code = intake(&choices, &take, &who, options))) {
    return code;
  }
  code = begin_setup(&listening->setup, &choices);
  if (!code) {
    const Chart* const chart = &listening->setup.chart.chart;
    warn_of_rest(options->operands[0],
                 &take,
                 CHORUSES_MOST * chart_ticks(chart),
                 chart->meter);
    code = listen(listening, &take, options);
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
  const int apart = outputs_apart(options->operands[0], options);
  if (apart) {
    return apart;
  }
  Listening* const listening = calloc(1, sizeof(*listening));
  if (!listening) {
    return command_fail_memory();
  }
  const int code = hear_file(listening, options);
  free(listening);
  return code;
}

const Command command_hear = {
  .name     = "hear",
  .operands = "TAKE.mid",
  .summary  = "what the listener makes of a take",
  .words =
    "Hears a take over a chart, phrase by phrase: its rhythm, the part each\n"
    "note plays in its chord, the note it aims at. Nobody answers.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_TRACK) |
             OPTION_BIT(OPTION_LEAD_IN) | OPTION_BIT(OPTION_REPORT) |
             OPTION_BIT(OPTION_DRAW) | OPTION_BIT(OPTION_LEARNER),
  .run = run,
};
