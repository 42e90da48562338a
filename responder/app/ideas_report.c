#include "responder/app/ideas_desk.h"

#include "responder/app/command.h"
#include "responder/app/outputs.h"
#include "responder/record/notation.h"
#include "responder/record/report.h"

#include <string.h>

static Turn
turn_of(const Desk* const desk, const unsigned index)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Tick          bar    = meter_bar_ticks(desk->setup.chart.chart.meter);
  return (Turn){
    .index     = index,
    .by_player = index == 1,
    .start     = phrase->start_tick,
    .end       = phrase->end_tick,
    .first_bar = (unsigned)(phrase->start_tick / bar) + 1,
  };
}

static void
report_ways(Desk* const desk, Report* const report)
{
  TurnRecord* const record = &desk->record;
  *record =
    (TurnRecord){.turn = turn_of(desk, 1), .phrase = desk->opening.phrase};
  report_add_turn(report, record);
  for (unsigned i = 0; i < desk->found.n; ++i) {
    const Development* const way = &desk->found.ways[i];
    *record                      = (TurnRecord){.turn   = turn_of(desk, i + 2),
                                                .phrase = way->answer.heard,
                                                .move   = way->answer.move};
    memcpy(record->why, way->answer.why, sizeof(record->why));
    report_add_idea(
      report, record, way->likeness, desk_practise(desk, way->answer.move));
  }
}

int
desk_report(Desk* const desk)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Chart* const  chart  = &desk->setup.chart.chart;
  const ReportHead    head   = {
         .chart         = chart,
         .feel          = desk->setup.feel.name,
         .tempo_bpm     = desk->setup.choices.tempo_bpm,
         .seed          = desk->setup.choices.seed,
         .bars_per_turn = (unsigned)((phrase->end_tick - phrase->start_tick) /
                                meter_bar_ticks(chart->meter)),
  };
  Fault         fault;
  Report* const report = report_open(&head);
  if (!report) {
    return command_fail_memory();
  }
  report_ways(desk, report);
  const int code = command_end(
    outputs_report(
      report_text(report), desk->options->report, FILE_OPEN, &fault),
    &fault);
  report_close(report);
  return code;
}

// Notation

// The phrase, and its developments one after the other, over the same bars
static void
note_ways(const Desk* const desk, Notation* const notation)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Tick          length = phrase->end_tick - phrase->start_tick;
  char                label[64];
  notation_add_phrase(notation, phrase, true, 0, "the phrase");
  for (unsigned i = 0; i < desk->found.n; ++i) {
    const Answer* const answer = &desk->found.ways[i].answer;
    (void)snprintf(
      label, sizeof(label), "%u. %s", i + 1, move_name(answer->move));
    notation_add_phrase(
      notation, &answer->heard, false, (Tick)(i + 1) * length, label);
  }
}

int
desk_notate(Desk* const desk)
{
  const Phrase* const  phrase  = &desk->opening.phrase;
  const SessionOptions session = setup_session(&desk->setup);
  const Tick           bar     = meter_bar_ticks(session.chart->meter);
  NotationHead         head    = {
               .ear         = session_ear(&session),
               .swing_ratio = feel_swing_ratio(session.feel, session.tempo_bpm),
  };
  Fault fault;
  head.ear.chart = &desk->bars;
  if (chart_part(&desk->bars,
                 session.chart,
                 (unsigned)(phrase->start_tick / bar),
                 (unsigned)((phrase->end_tick - phrase->start_tick) / bar))) {
    return command_fail_memory();
  }
  Notation* const notation = notation_open(&head);
  if (!notation) {
    return command_fail_memory();
  }
  note_ways(desk, notation);
  const int code = command_end(
    notation_save(
      notation, session.chart->title, desk->options->musicxml, &fault),
    &fault);
  notation_close(notation);
  return code;
}
