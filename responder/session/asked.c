#include "responder/session/asked.h"

// When a turn is overfull; common practice, no source.
static const double   overfull_space       = 0.06; // Less rest than this
static const double   overfull_onsets      = 6.0;  // ... in a bar of four
static const unsigned silent_for_fragments = 3;

// What a cell to be given back may have at least, beside even eighths
static const unsigned cell_chord_tones = 3;

// Of rhythm, that a step makes it simpler by; common practice, no source
static const unsigned simpler_rungs = 2;

bool
asked_is_recalled(const Turn* const turn)
{
  return turn->task == TASK_ALONG || turn->task == TASK_ALONE;
}

static bool
is_overfull(const Session* const session, const Phrase* const call)
{
  const Measures* const measures = &call->measures;
  const Tick            bar = meter_bar_ticks(session->options.chart->meter);
  const double          bars_of_four = (double)bar / (4.0 * TICKS_PER_QUARTER);
  return (double)measures->space < overfull_space &&
         (double)measures->onsets_per_bar > overfull_onsets * bars_of_four;
}

Treatment
asked_treatment(const Session* const session, const Standing* const standing)
{
  if (session->reply.turn.task == TASK_SHOW) {
    return TREAT_ANSWER; // To nobody but itself
  }
  if (standing->silent_turns >= silent_for_fragments) {
    return TREAT_FRAGMENTS;
  }
  if (!standing->call.n_notes) {
    return TREAT_SIMPLER;
  }
  return is_overfull(session, &standing->call) ? TREAT_SPACE : TREAT_ANSWER;
}

/// Return how a call is answered: A A B, and anew.
static AnswersAs
answers_as(const Session* const session, const Standing* const standing)
{
  const Turn* const turn = &session->reply.turn;
  if (turn->task == TASK_SHOW) {
    return turn->begins_chorus ? ANSWERS_FRESH : ANSWERS_DEPARTING;
  }
  if (turn->task == TASK_CELL) {
    return ANSWERS_DEPARTING; // Not the one before
  }
  if (turn->task != TASK_FREE) {
    return ANSWERS_FRESH;
  }
  if (session->answers_as == ANSWERS_AGAIN) {
    return ANSWERS_DEPARTING;
  }
  const bool is_again = standing->times_said > 1 &&
                        session->answers_as == ANSWERS_FRESH &&
                        session->history.n_answers > 0;
  return is_again ? ANSWERS_AGAIN : ANSWERS_FRESH;
}

Tick
asked_end(const Session* const session, const Turn* const turn)
{
  return turn->end == session->end ? session_closing_end(session) : turn->end;
}

// Who shows a chorus goes on from what was said last
static const Phrase*
call_of(const Session* const session, const Standing* const standing)
{
  const bool goes_on =
    session->reply.turn.task == TASK_SHOW && session->history.n_answers > 0;
  return goes_on ? &session->answer.heard : &standing->call;
}

/// Raise a rung to where the ladder allows what a cell has.
static void
allow_cell(Rung* const rung, const Ladder* const ladder)
{
  uint8_t* const notes  = &rung->level[DIMENSION_NOTES];
  uint8_t* const rhythm = &rung->level[DIMENSION_RHYTHM];
  while (*notes < N_NOTES_RUNGS &&
         ladder->notes[*notes - 1].chord_tones < cell_chord_tones) {
    ++*notes;
  }
  while (*rhythm < N_RHYTHM_RUNGS && !ladder->rhythm[*rhythm - 1].eighths) {
    ++*rhythm;
  }
}

bool
asked_is_simpler(const Turn* const turn, const Standing* const standing)
{
  return standing->eased > 0 &&
         standing->climb.rung.level[DIMENSION_RHYTHM] > 1 &&
         turn->task != TASK_FREE && turn->task != TASK_CELL &&
         !asked_is_recalled(turn);
}

static Rung
rung_of(const Session* const session, const Standing* const standing)
{
  Rung              rung = standing->climb.rung;
  const Turn* const turn = &session->reply.turn;
  if (turn->task == TASK_FEW) {
    rung.level[DIMENSION_NOTES]    = (uint8_t)pattern_few(turn->chorus);
    rung.level[DIMENSION_ORNAMENT] = 1;
  } else if (turn->task == TASK_CELL) { // Hard by its length alone
    allow_cell(&rung, session->options.ladder);
    rung.level[DIMENSION_ORNAMENT] = 1;
  }
  if (asked_is_simpler(turn, standing)) {
    uint8_t* const rhythm = &rung.level[DIMENSION_RHYTHM];
    const unsigned down   = standing->eased * simpler_rungs;
    *rhythm               = (uint8_t)(*rhythm > down ? *rhythm - down : 1);
    rung.level[DIMENSION_ORNAMENT] = 1;
  }
  return rung;
}

FitTurn
asked_fit(const Session* const session)
{
  const Turn* const turn = &session->reply.turn;
  const Turn        next =
    turn_at(session_turn_plan(&session->options), turn->index + 1);
  return (FitTurn){.ear      = session_ear(&session->options),
                   .start    = turn->start,
                   .earliest = tick_least(session->reply.earliest, turn->start),
                   .end      = asked_end(session, turn),
                   .lowest   = session->options.lowest,
                   .highest  = session->options.highest,
                   .later =
                     turn->task == TASK_CELL ? next.start - turn->start : 0,
                   .home = turn->end == session->end ? session->end : 0};
}

SayRequest
asked_request(const Session* const session, const Standing* const standing)
{
  const SessionOptions* const options = &session->options;
  const Turn* const           turn    = &session->reply.turn;
  const Treatment             treats  = asked_treatment(session, standing);
  const AnswersAs             as =
    treats == TREAT_ANSWER ? answers_as(session, standing) : ANSWERS_FRESH;
  const Tick start = reply_start(&session->reply, options->chart->meter);
  const Tick first = session->reply.earliest;
  return (SayRequest){
    .ear             = session_ear(options),
    .rung            = rung_of(session, standing),
    .start           = start,
    .earliest        = first < start ? first : start,
    .end             = asked_end(session, turn),
    .call            = call_of(session, standing),
    .ideas           = &standing->ideas,
    .history         = &session->history,
    .lowest          = options->lowest,
    .highest         = options->highest,
    .hand_span       = options->hand_span,
    .swing_ratio     = feel_swing_ratio(options->feel, options->tempo_bpm),
    .treatment       = treats,
    .turn_in_chorus  = turn->turn_in_chorus,
    .turns_in_chorus = turn->turns_in_chorus,
    .ends_chorus     = turn->ends_chorus || turn->task == TASK_ASK,
    .ends_piece      = turn->end == session->end,
    .departs_from    = as != ANSWERS_DEPARTING   ? NULL
                       : turn->task == TASK_SHOW ? &session->cell
                                                 : &session->answer.heard,
    .before          = as == ANSWERS_AGAIN ? &session->answer : NULL,
  };
}
