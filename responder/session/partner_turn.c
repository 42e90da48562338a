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

/// Return how a call is answered: A A B, and anew.
static AnswersAs
answers_as(const Session* const session, const Standing* const standing)
{
  if (session->answers_as == ANSWERS_AGAIN) {
    return ANSWERS_DEPARTING;
  }
  const bool is_again = standing->times_said > 1 &&
                        session->answers_as == ANSWERS_FRESH &&
                        session->history.n_answers > 0;
  return is_again ? ANSWERS_AGAIN : ANSWERS_FRESH;
}

static SayRequest
request_of(const Session* const session, const Standing* const standing)
{
  const SessionOptions* const options = &session->options;
  const Turn* const           turn    = &session->reply.turn;
  const Treatment             treats  = treatment(session, standing);
  const AnswersAs             as =
    treats == TREAT_ANSWER ? answers_as(session, standing) : ANSWERS_FRESH;
  const Tick start = reply_start(&session->reply, options->chart->meter);
  const Tick first = session->reply.earliest;
  return (SayRequest){
    .ear             = session_ear(options),
    .rung            = standing->climb.rung,
    .start           = start,
    .earliest        = first < start ? first : start,
    .end             = turn->end,
    .call            = &standing->call,
    .ideas           = &standing->ideas,
    .history         = &session->history,
    .lowest          = options->lowest,
    .highest         = options->highest,
    .hand_span       = options->hand_span,
    .swing_ratio     = feel_swing_ratio(options->feel, options->tempo_bpm),
    .treatment       = treats,
    .turn_in_chorus  = turn->turn_in_chorus,
    .turns_in_chorus = turn->turns_in_chorus,
    .ends_chorus     = turn->ends_chorus,
    .ends_piece      = turn->end == session->end,
    .departs         = as == ANSWERS_DEPARTING,
    .before          = as == ANSWERS_AGAIN ? &session->answer : NULL,
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
partner_turn_think(Session* const session, const Standing* const standing)
{
  const SayRequest request = request_of(session, standing);
  const unsigned   index   = session->reply.turn.index;
  think_begin(&session->thinking,
              &request,
              rng_seed(session->options.seed, STREAM_FIRST_TURN + index));
}

/// Hear an answer that began after the line in the whole of its turn.
static void
hear_whole(const Session* const session, Answer* const answer)
{
  const Ear         ear  = session_ear(&session->options);
  const Turn* const turn = &session->reply.turn;
  hear_written(&answer->heard,
               &ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               turn->start,
               turn->end);
}

static void
answer_call(Session* const session)
{
  const SayRequest request = request_of(session, &session->standing);
  think_end(&session->thinking, &session->next_answer);
  session->answer     = session->next_answer;
  session->answers_as = request.before    ? ANSWERS_AGAIN
                        : request.departs ? ANSWERS_DEPARTING
                                          : ANSWERS_FRESH;
  if (request.start > session->reply.turn.start) {
    hear_whole(session, &session->answer);
  }
  say_remember(
    &session->history, &session->answer, session->reply.turn.begins_chorus);
}

void
partner_turn_say(Session* const session, TurnRecord* const record)
{
  Standing* const     standing = &session->standing;
  const Answer* const answer   = &session->answer;
  const Turn          turn     = session->reply.turn;
  *record = (TurnRecord){.turn = turn, .rung = standing->climb.rung};
  if (partner_follows_script(session, standing)) {
    const Ear ear = session_ear(&session->options);
    script_answer(session->options.script, &ear, &turn, &session->answer);
  } else {
    answer_call(session);
  }
  record->phrase    = answer->heard;
  record->move      = answer->move;
  record->treatment = treatment(session, standing);
  record->answers   = answer->likeness;
  (void)snprintf(record->why, sizeof(record->why), "%s", answer->why);

  const Idea idea = idea_of(&record->phrase, false);
  record->idea    = ideas_meet(&standing->ideas, &idea, &record->likeness);
}
