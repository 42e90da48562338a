#include "responder/lesson/desk.h"

#include "responder/record/notation.h"
#include "responder/record/recorded.h"

#include <stdio.h>
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
    report_add_idea(report, record, way->likeness, desk_practise(desk, i));
  }
}

char*
desk_report(Desk* const desk)
{
  const Phrase* const phrase = &desk->opening.phrase;
  ReportHead          head   = recorded_report_head(&desk->setup);
  head.bars_per_turn   = (unsigned)((phrase->end_tick - phrase->start_tick) /
                                  meter_bar_ticks(head.chart->meter));
  Report* const report = report_open(&head);
  if (!report) {
    return NULL;
  }
  report_ways(desk, report);
  char* const text = report_text(report);
  report_close(report);
  return text;
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

// NULL when there is no memory; give it to notation_close()
static Notation*
notation_of(Desk* const desk)
{
  const Phrase* const  phrase  = &desk->opening.phrase;
  const SessionOptions session = setup_session(&desk->setup);
  const Tick           bar     = meter_bar_ticks(session.chart->meter);
  NotationHead         head    = {
               .ear         = session_ear(&session),
               .swing_ratio = feel_swing_ratio(session.feel, session.tempo_bpm),
  };
  Notation* notation = NULL;
  head.ear.chart     = &desk->bars;
  if (!chart_part(&desk->bars,
                  session.chart,
                  (unsigned)(phrase->start_tick / bar),
                  (unsigned)((phrase->end_tick - phrase->start_tick) / bar))) {
    notation = notation_open(&head);
  }
  if (notation) {
    note_ways(desk, notation);
  }
  return notation;
}

static Status
write_notation(Desk* const desk,
               Status (*const write)(const Notation* notation,
                                     const char*     title,
                                     const char*     path,
                                     Fault*          fault),
               const char* const path,
               Fault* const      fault)
{
  Notation* const notation = notation_of(desk);
  const Status    status =
    notation ? write(notation, desk->setup.chart.chart.title, path, fault)
                : fault_memory(fault, NULL);
  notation_close(notation);
  return status;
}

Status
desk_notate(Desk* const desk, const char* const path, Fault* const fault)
{
  return write_notation(desk, notation_save, path, fault);
}

Status
desk_engrave(Desk* const desk, const char* const path, Fault* const fault)
{
  return write_notation(desk, notation_engrave, path, fault);
}
