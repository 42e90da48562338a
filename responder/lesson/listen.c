#include "responder/lesson/listen.h"

#include <string.h>

// Hears the notes of a turn that belong to it, from `first` on; returns the
// first that belongs to the next
static size_t
hear_one(Listening* const            listening,
         const SessionOptions* const options,
         const Take* const           take,
         const size_t                first,
         const Turn                  turn)
{
  const Tick pick_up = meter_beat_ticks(options->chart->meter) / 2;
  Ear        ear     = session_ear(options);
  size_t     last    = first;
  ear.acquaintance   = &listening->player;
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
  hear_learn(&listening->player, &ear, &record->phrase);
  const Idea idea = idea_of(&record->phrase, true);
  record->idea    = ideas_meet(&listening->ideas, &idea, &record->likeness);
  const RemarkView view = {.chart        = options->chart,
                           .phrase       = &record->phrase,
                           .silent_turns = !record->phrase.n_notes,
                           .times_said   = 1};
  remark_turn(
    &listening->remarks, session_sentences(options), &view, record->remark);
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

Tick
listen_end(const Setup* const setup)
{
  return CHORUSES_MOST * chart_ticks(&setup->chart.chart);
}

void
listen_to_take(Listening* const   listening,
               const Setup* const setup,
               const Take* const  take,
               Report* const      report,
               const TurnListener hear_turn,
               void* const        context)
{
  SessionOptions options = setup_session(setup);
  options.way            = WAY_ANSWER; // Every bar is heard
  const TurnPlan plan    = session_turn_plan(&options);
  const Tick     end     = hearing_end(take, options.chart);
  const Tick     pick_up = meter_beat_ticks(options.chart->meter) / 2;
  size_t         next    = 0;
  memset(listening, 0, sizeof(*listening));
  listening->summary.sentences = options.sentences;
  while (next < take->n_notes && take->notes[next].tick < -pick_up) {
    ++next;
  }
  // Every turn is the player's: nobody answers
  for (Turn turn = turn_at(plan, 1); turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    turn.by_player = true;
    next           = hear_one(listening, &options, take, next, turn);
    if (hear_turn) {
      hear_turn(context, &listening->record);
    }
    if (report) {
      report_add_turn(report, &listening->record);
    }
  }
  if (report) {
    report_add_summary(report, &listening->summary);
  }
}
