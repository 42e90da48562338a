#include "responder/session/partner_turn.h"

#include <stdio.h>

// When a turn is overfull; common practice, no source.
static const double   overfull_space       = 0.06; // Less rest than this
static const double   overfull_onsets      = 6.0;  // ... in a bar of four
static const unsigned silent_for_fragments = 3;

enum { STREAM_FIRST_TURN = 16 };

static bool
is_overfull(const Session* const session, const Phrase* const call)
{
  const Measures* const measures = &call->measures;
  const Tick            bar = meter_bar_ticks(session->options.chart->meter);
  const double          bars_of_four = (double)bar / (4.0 * TICKS_PER_QUARTER);
  return (double)measures->space < overfull_space &&
         (double)measures->onsets_per_bar > overfull_onsets * bars_of_four;
}

static Treatment
treatment(const Session* const session, const Standing* const standing)
{
  if (standing->silent_turns >= silent_for_fragments) {
    return TREAT_FRAGMENTS;
  }
  if (!standing->call.n_notes) {
    return TREAT_SIMPLER;
  }
  return is_overfull(session, &standing->call) ? TREAT_SPACE : TREAT_ANSWER;
}

SayRequest
partner_turn_request(const Session* const  session,
                     const Standing* const standing,
                     const Turn* const     turn)
{
  const SessionOptions* const options = &session->options;
  return (SayRequest){
    .ear             = session_ear(options),
    .rung            = standing->climb.rung,
    .start           = turn->start,
    .earliest        = turn->start,
    .end             = turn->end,
    .call            = &standing->call,
    .ideas           = &standing->ideas,
    .history         = &session->history,
    .lowest          = options->lowest,
    .highest         = options->highest,
    .hand_span       = options->hand_span,
    .swing_ratio     = feel_swing_ratio(options->feel, options->tempo_bpm),
    .treatment       = treatment(session, standing),
    .turn_in_chorus  = turn->turn_in_chorus,
    .turns_in_chorus = turn->turns_in_chorus,
    .ends_chorus     = turn->ends_chorus,
  };
}

bool
partner_follows_script(const Session* const  session,
                       const Standing* const standing)
{
  const Script* const script = session->options.script;
  return script && !(script->answers && standing->call.n_notes);
}

void
partner_turn_say(Session* const    session,
                 const Turn* const turn,
                 TurnRecord* const record)
{
  Standing* const  standing = &session->standing;
  Answer* const    answer   = &session->answer;
  const SayRequest request  = partner_turn_request(session, standing, turn);
  *record = (TurnRecord){.turn = *turn, .rung = standing->climb.rung};
  if (partner_follows_script(session, standing)) {
    script_answer(session->options.script, &request.ear, turn, answer);
  } else {
    Rng rng = rng_seed(session->options.seed, STREAM_FIRST_TURN + turn->index);
    say_answer(answer, &session->say_work, &request, &rng);
    say_remember(&session->history, answer, turn->begins_chorus);
  }
  record->phrase    = answer->heard;
  record->move      = answer->move;
  record->treatment = request.treatment;
  record->answers   = answer->likeness;
  (void)snprintf(record->why, sizeof(record->why), "%s", answer->why);

  const Idea idea = idea_of(&record->phrase, false);
  record->idea    = ideas_meet(&standing->ideas, &idea, &record->likeness);
}
