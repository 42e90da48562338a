#include "responder/lesson/practice.h"

#include "responder/lesson/kept.h"
#include "responder/lesson/today.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

static const double thousand  = 1000.0;
static const double minute_ms = 60000.0;

// The journal counts roles, grids and moves as the listener and the ladder do
static_assert(ROLE_ROOT == 0 && ROLE_OUTSIDE == N_JOURNAL_TARGETS - 1,
              "targets are roles");
static_assert(GRID_BEAT == 0 && GRID_SIXTEENTH == N_JOURNAL_GRIDS - 1,
              "grids are grids");

static int32_t
thousandths(const double value)
{
  return (int32_t)lround(value * thousand);
}

// What was played

static void
fill_measures(JournalTurn* const turn, const Phrase* const phrase)
{
  const Measures* const measures = &phrase->measures;
  const int32_t         written =
    (int32_t)phrase->n_notes - (int32_t)measures->n_ornaments;
  const bool has_notes = written > 0;
  turn->notes          = written;
  turn->comping        = (int32_t)phrase->n_comping;
  turn->ornaments      = (int32_t)measures->n_ornaments;
  turn->grid           = has_notes ? (int32_t)measures->grid : JOURNAL_NONE;
  turn->swing          = measures->swing_ratio > 0.0F
                           ? thousandths(measures->swing_ratio)
                           : JOURNAL_NONE;
  turn->offset_us = has_notes ? thousandths(measures->offset_ms) : JOURNAL_NONE;
  turn->spread_us =
    written > 1 ? thousandths(measures->spread_ms) : JOURNAL_NONE;
  turn->syncopation   = thousandths(measures->syncopation);
  turn->evenness      = thousandths(measures->evenness);
  turn->onsets        = thousandths(measures->onsets_per_bar);
  turn->space         = thousandths(measures->space);
  turn->range         = (int32_t)measures->range;
  turn->chord_share   = thousandths(measures->chord_share);
  turn->scale_share   = thousandths(measures->scale_share);
  turn->outside_share = thousandths(measures->outside_share);
  turn->left_share    = thousandths(measures->left_share);
  turn->complexity    = thousandths(measures->complexity);
  turn->target        = phrase->target == PHRASE_NO_TARGET
                          ? JOURNAL_NONE
                          : phrase->notes[phrase->target].role;
}

static void
fill_rungs(JournalTurn* const      turn,
           const TurnRecord* const record,
           const Practice* const   practice)
{
  const Rung* const heard      = &record->phrase.rung;
  const Rung* const stands     = &record->rung;
  const Rung* const next       = &practice->stand.rung;
  turn->heard_notes            = heard->level[DIMENSION_NOTES];
  turn->heard_rhythm           = heard->level[DIMENSION_RHYTHM];
  turn->heard_shape            = heard->level[DIMENSION_SHAPE];
  turn->heard_ornament         = heard->level[DIMENSION_ORNAMENT];
  turn->stands_notes           = stands->level[DIMENSION_NOTES];
  turn->stands_rhythm          = stands->level[DIMENSION_RHYTHM];
  turn->stands_shape           = stands->level[DIMENSION_SHAPE];
  turn->stands_ornament        = stands->level[DIMENSION_ORNAMENT];
  const Outcome* const outcome = &record->outcome;
  const bool tells = !outcome->is_judged || outcome->goal != GOAL_NONE ||
                     outcome_tells_of_rung(outcome);
  if (turn->by_player && practice->tells_stand && tells) {
    turn->budget        = practice->stand.budget;
    turn->next_notes    = next->level[DIMENSION_NOTES];
    turn->next_rhythm   = next->level[DIMENSION_RHYTHM];
    turn->next_shape    = next->level[DIMENSION_SHAPE];
    turn->next_ornament = next->level[DIMENSION_ORNAMENT];
  }
}

static void
fill_outcome(JournalTurn* const turn, const TurnRecord* const record)
{
  char why[OUTCOME_TEXT_CAPACITY];
  char moved[CLIMB_TEXT_CAPACITY];
  if (record->outcome.is_judged) {
    turn->success = outcome_succeeds(&record->outcome);
  }
  (void)snprintf(
    turn->why, sizeof(turn->why), "%s", outcome_text(&record->outcome, why));
  (void)snprintf(
    turn->moved, sizeof(turn->moved), "%s", climb_text(&record->climb, moved));
}

static int32_t
length_ms(const Turn* const turn, const double tempo_bpm)
{
  const double quarters = (double)(turn->end - turn->start) / TICKS_PER_QUARTER;
  return (int32_t)lround(quarters * minute_ms / tempo_bpm);
}

/// Return a turn as the journal keeps it, with the learner where `practice`
/// says that they stand.
static JournalTurn
journal_turn(const Practice* const practice, const TurnRecord* const record)
{
  const bool  by_player = record->turn.by_player;
  JournalTurn turn      = {
         .number    = (int32_t)record->turn.index,
         .by_player = by_player,
         .first_bar = (int32_t)record->turn.first_bar,
         .length_ms = length_ms(&record->turn, practice->tempo_bpm),
         .budget    = JOURNAL_NONE,
         .success   = JOURNAL_NONE,
         .idea      = record->idea ? (int32_t)record->idea : JOURNAL_NONE,
         .likeness =
      record->idea ? thousandths((double)record->likeness) : JOURNAL_NONE,
         .move = by_player ? JOURNAL_NONE : (int32_t)record->move,
  };
  fill_measures(&turn, &record->phrase);
  fill_rungs(&turn, record, practice);
  fill_outcome(&turn, record);
  (void)snprintf(turn.says,
                 sizeof(turn.says),
                 "%s",
                 by_player ? record->remark : record->why);
  return turn;
}

// The session

static JournalSession
session_of(const Setup* const setup, const char* const kind)
{
  const SessionOptions options = setup_session(setup);
  JournalSession       session = {
          .id             = journal_new_id(),
          .started_ms     = now_ms(),
          .day            = today(),
          .tempo          = thousandths(options.tempo_bpm),
          .bars_per_turn  = (int32_t)options.bars_per_turn,
          .choruses       = (int32_t)options.choruses,
          .partner_begins = options.partner_begins,
          .seed           = (int64_t)options.seed,
          .version        = BARTER_VERSION,
  };
  (void)snprintf(session.kind, sizeof(session.kind), "%s", kind);
  (void)snprintf(
    session.way, sizeof(session.way), "%s", way_names[options.way]);
  (void)snprintf(
    session.chart, sizeof(session.chart), "%s", options.chart->title);
  (void)snprintf(session.feel, sizeof(session.feel), "%s", setup->feel.name);
  (void)key_text(options.chart->key, session.key);
  (void)meter_text(options.chart->meter, session.meter);
  return session;
}

static int32_t
budget_of(const Setup* const setup, const Who* const who)
{
  if (climb_has_plan(&setup->choices.plan)) {
    return thousandths(setup->choices.budget);
  }
  return who->has_stand ? who->stand.budget : JOURNAL_NONE;
}

Status
practice_begin(Practice* const    practice,
               const Who* const   who,
               const Setup* const setup,
               const char* const  kind,
               Fault* const       fault)
{
  const bool is_tried =
    choices_place(&setup->choices, CHOICE_RUNG) == CHOICE_BY_ASKING;
  const JournalSession session = session_of(setup, kind);
  Practice             begun   = {
                  .session     = session.id,
                  .setup       = setup,
                  .tempo_bpm   = setup->choices.tempo_bpm,
                  .stand       = {setup->choices.rung, budget_of(setup, who)},
                  .tells_stand = !is_tried,
  };
  Status status = who_journal(who, &begun.journal, fault);
  if (!status) {
    status = journal_add_session(begun.journal, &session, fault);
  }
  if (status) {
    practice_end(&begun);
    return status;
  }
  *practice = begun;
  return STATUS_OK;
}

JournalTurn
practice_note(Practice* const practice, const TurnRecord* const record)
{
  if (record->climb.target > 0.0) { // It was judged by a plan
    practice->stand.rung   = record->climb.rung;
    practice->stand.budget = thousandths(record->climb.budget);
  }
  if (!record->turn.by_player) {
    practice->has_said = true;
    practice->said     = record->phrase;
  } else if (record->outcome.is_judged) {
    best_keep(&practice->best,
              &record->phrase,
              &record->outcome,
              practice->has_said ? &practice->said : NULL);
  }
  return journal_turn(practice, record);
}

Status
practice_turn(Practice* const         practice,
              const TurnRecord* const record,
              Fault* const            fault)
{
  const JournalTurn turn = practice_note(practice, record);
  return journal_add_turn(practice->journal, practice->session, &turn, fault);
}

void
practice_end(Practice* const practice)
{
  Fault ignored; // It then counts as practice, and nothing is lost
  if (practice->journal && practice->best.worth) {
    (void)!kept_best(
      practice->journal, practice->setup, &practice->best.phrase, &ignored);
  }
  if (practice->journal) {
    (void)!journal_drop_unplayed(
      practice->journal, practice->session, &ignored);
  }
  journal_close(practice->journal);
  practice->journal = NULL;
}
