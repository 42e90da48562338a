#include "responder/lesson/converse.h"

#include "responder/record/recorded.h"

#include <stdlib.h>

// As many choruses as hold the whole take. A last note that lands on the first
// beat after one needs no other: that is where the band ends.
static unsigned
choruses_for(const Take* const take, const Chart* const chart)
{
  const Tick beat     = meter_beat_ticks(chart->meter);
  const Tick choruses = (take->last - beat) / chart_ticks(chart) + 1;
  return (unsigned)(choruses < 1               ? 1
                    : choruses > CHORUSES_MOST ? CHORUSES_MOST
                                               : choruses);
}

static void
open_room(const Setup* const setup, Take* const take)
{
  const Chart* const chart = &setup->chart.chart;
  take_make_room(take,
                 (TakeRoom){
                   .form  = chart_ticks(chart) / 2, // It has its room already
                   .group = setup->choices.bars * meter_bar_ticks(chart->meter),
                   .pick_up    = meter_beat_ticks(chart->meter) / 2,
                   .room_first = setup->choices.partner_begins,
                 });
}

Status
converse_load(Setup* const         setup,
              const Choices* const choices,
              Take* const          take,
              Faults* const        faults)
{
  const Status status = setup_load(setup, choices, faults);
  if (!status && choices->makes_room) {
    open_room(setup, take);
  }
  if (!status && !choices->choruses) {
    const unsigned least    = way_choruses(setup->choices.way);
    const unsigned holds    = choruses_for(take, &setup->chart.chart);
    setup->choices.choruses = holds < least ? least : holds;
  }
  return status;
}

Status
converse_load_again(Setup* const      setup,
                    Choices* const    choices,
                    Take* const       take,
                    const char* const path,
                    Faults* const     faults)
{
  Tick   bar_one = 0;
  Fault  fault;
  Status status = recorded_choices(choices, &bar_one, path, &fault);
  if (status) {
    return faults_note(faults, &fault);
  }
  if (!recorded_has_chart(choices)) {
    return faults_add(faults,
                      STATUS_MISSING,
                      path,
                      0,
                      "was played over %s, which is not here; put it beside "
                      "the recording",
                      choices->chart);
  }
  if ((status = setup_load(setup, choices, faults))) {
    return status;
  }
  if (take_load(take, path, (TakeChoice){.track = "player"}, &fault)) {
    return faults_note(faults, &fault);
  }
  if (take_changes(take, path, &fault)) {
    take_free(take);
    return faults_note(faults, &fault);
  }
  take_shift(take, -bar_one); // A recording counts from its count-in
  return STATUS_OK;
}

Tick
converse_end(const Setup* const setup)
{
  const Chart* const chart = &setup->chart.chart;
  return setup->choices.choruses * chart_ticks(chart) +
         meter_bar_ticks(chart->meter);
}

// Having it

// The first turn that cannot be kept is the last that is tried
static void
keep_turn(Converse* const converse, const TurnRecord* const record)
{
  if (converse->wish.practice && !converse->kept.status) {
    (void)!practice_turn(converse->wish.practice, record, &converse->kept);
  }
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Converse* const converse = context;
  keep_turn(converse, record);
  if (record->turn.by_player) {
    summary_add(&converse->summary, &record->phrase);
    summary_judge(&converse->summary, &record->outcome);
  }
  if (converse->wish.hear_turn) {
    converse->wish.hear_turn(converse->wish.context, record);
  }
  if (converse->report) {
    report_add_turn(converse->report, record);
  }
  if (converse->notation) {
    notation_add_turn(converse->notation, record);
  }
}

static Notation*
open_notation(const SessionOptions* const session)
{
  const NotationHead head = {
    .ear         = session_ear(session),
    .swing_ratio = feel_swing_ratio(session->feel, session->tempo_bpm),
  };
  return notation_open(&head);
}

static Status
drive(Converse* const converse, const Take* const take)
{
  HeardKey*   keys   = NULL;
  DrivePlayer player = {.hear_turn = hear_turn,
                        .context   = converse,
                        .changes   = take->changes,
                        .n_changes = take->n_changes,
                        .left      = take->left};
  Status      status = take_keys(take, &keys, &player.n_keys);
  if (!status) {
    player.keys = keys;
    status =
      drive_session(&converse->conversation, &converse->session, &player);
  }
  free(keys);
  return status;
}

Status
converse_have(Converse* const           converse,
              const Setup* const        setup,
              const Take* const         take,
              const ConverseWish* const wish,
              Fault* const              fault)
{
  const ReportHead head = recorded_report_head(setup);
  *converse             = (Converse){
                .setup   = setup,
                .session = setup_session(setup),
                .wish    = *wish,
                .summary = {.sentences = &setup->sentences,
                            .way       = setup->choices.way,
                            .practised = setup->choices.practised},
                .kept    = {.status = STATUS_OK},
  };
  converse->report   = wish->reports ? report_open(&head) : NULL;
  converse->notation = wish->notates ? open_notation(&converse->session) : NULL;
  const bool is_open = !converse->report == !wish->reports &&
                       !converse->notation == !wish->notates;
  if (!is_open || drive(converse, take)) {
    return fault_memory(fault, NULL);
  }
  if (converse->report) {
    report_add_summary(converse->report, &converse->summary);
  }
  if (converse->notation) {
    notation_add_rest(converse->notation, &converse->conversation);
  }
  return STATUS_OK;
}

void
converse_free(Converse* const converse)
{
  conversation_free(&converse->conversation);
  report_close(converse->report);
  notation_close(converse->notation);
  converse->report   = NULL;
  converse->notation = NULL;
}

// What comes of it

Status
converse_save(const Converse* const converse,
              const char* const     path,
              Fault* const          fault)
{
  Recorded recorded;
  return recording_save(&converse->conversation,
                        recorded_of(&recorded, converse->setup, path),
                        fault);
}

Status
converse_notate(const Converse* const converse,
                const char* const     path,
                Fault* const          fault)
{
  return notation_save(
    converse->notation, converse->session.chart->title, path, fault);
}

Status
converse_engrave(const Converse* const converse,
                 const char* const     path,
                 Fault* const          fault)
{
  return notation_engrave(
    converse->notation, converse->session.chart->title, path, fault);
}

Status
converse_render(const Converse* const converse,
                const char* const     path,
                const char* const     soundfont,
                const Watch* const    watch,
                Fault* const          fault)
{
  const Rendering sound = recorded_sound(converse->setup, soundfont, watch);
  return render_conversation(&converse->conversation, &sound, path, fault);
}
