#include "responder/session/answering.h"

#include "responder/session/accompany.h"
#include "responder/session/coming.h"
#include "responder/session/partner_turn.h"
#include "responder/session/player_turn.h"
#include "responder/session/sounding.h"

#include <assert.h>

static TurnRecord*
new_record(SessionOut* const out)
{
  assert(out->n_turns < 2);
  return &out->turns[out->n_turns++];
}

// What a turn is answered by, as things stand
static const Standing*
presume(Session* const session)
{
  if (session->reply.call.index == 0) {
    return &session->standing;
  }
  player_turn_hear(session,
                   &session->reply.call,
                   session->now + 1, // What is struck this moment is heard
                   &session->presumed,
                   &session->presumed_record);
  session->presumed_keys = session->hearing.n_keys;
  return &session->presumed;
}

static void
begin_to_think(Session* const session, const Standing* const standing)
{
  if (!partner_has_words(session, standing)) {
    partner_turn_think(session, standing);
  } else {
    session->reply.has_thought = true;
  }
}

static bool
is_answered(const Session* const session)
{
  return session->reply.turn.start < session->end &&
         !session->reply.turn.by_player;
}

// What was presumed holds if no key has moved since
static void
close_call(Session* const    session,
           const bool        is_presumed,
           SessionOut* const out)
{
  TurnRecord* const record = new_record(out);
  if (!is_presumed || session->presumed_keys != session->hearing.n_keys) {
    (void)presume(session);
  }
  *record           = session->presumed_record;
  session->standing = session->presumed;
  player_turn_keep(session, record);
  player_turn_remark(session, record);
  coming_count(session, record);
  coming_say(session, record);
  session->called_until = session->now - session->options.listens_behind;
  session->loudness     = accompany_loudness(session);
}

static void
give_reply(Session* const session, const bool is_thought, SessionOut* const out)
{
  const Turn* const turn = &session->reply.turn;
  if (session->reply.call.index > 0) {
    close_call(session, is_thought, out);
  }
  if (is_answered(session)) {
    if (!is_thought) {
      begin_to_think(session, &session->standing);
    }
    partner_turn_say(session, new_record(out));
    coming_say(session, &out->turns[out->n_turns - 1]);
    sounding_answer(session);
  } else if (turn->start < session->end && partner_recalls(turn)) {
    partner_turn_recall(session);
    if (turn->task == TASK_ALONG) {
      sounding_answer(session);
    }
  }
  session->reply.turn.index = 0;
}

void
answering_step(Session* const session, SessionOut* const out)
{
  const ReplyStep step = reply_step(&session->reply,
                                    &session->hearing,
                                    SESSION_LEAD,
                                    session->options.chart->meter);
  if (step.gives) {
    give_reply(session, !step.begins && is_answered(session), out);
  } else if (step.begins && is_answered(session)) {
    begin_to_think(session, presume(session));
  } else if (step.goes_on && is_answered(session)) {
    session->reply.has_thought = !think_slice(&session->thinking);
  }
}
