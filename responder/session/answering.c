#include "responder/session/answering.h"

#include "responder/session/accompany.h"
#include "responder/session/asked.h"
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
  session->reply.n_owed = 0;
}

static void
think_on(Session* const session)
{
  session->reply.has_thought = !think_slice(&session->thinking);
}

// Think as much as there were moments for
static void
catch_up(Session* const session)
{
  while (session->reply.n_owed > 0 && !session->reply.has_thought) {
    think_on(session);
    --session->reply.n_owed;
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
presume_call(Session* const session, const bool is_presumed)
{
  if (!is_presumed || session->presumed_keys != session->hearing.n_keys) {
    (void)presume(session);
  }
}

static void
close_call(Session* const session, SessionOut* const out)
{
  TurnRecord* const record = new_record(out);
  *record                  = session->presumed_record;
  session->standing        = session->presumed;
  player_turn_keep(session, record);
  player_turn_remark(session, record);
  coming_count(session, record);
  coming_say(session, record);
  session->called_until = session->now - session->options.listens_behind;
  session->loudness     = accompany_loudness(session);
}

static void
say_reply(Session* const    session,
          const bool        is_thought,
          TurnRecord* const record)
{
  if (!is_thought) {
    begin_to_think(session, &session->standing);
  }
  partner_turn_say(session, record);
  sounding_answer(session);
}

// The answer sounds, and the call goes on
static void
come_in(Session* const session, const bool is_thought)
{
  Ahead* const ahead = &session->ahead;
  presume_call(session, is_thought);
  ahead->at         = session->reply.turn.start - SESSION_LEAD;
  ahead->call       = session->reply.call;
  ahead->reply      = session->reply;
  ahead->before     = session->standing;
  ahead->said       = session->answer;
  session->standing = session->presumed;
  say_reply(session, is_thought, &ahead->answer);
  session->reply.turn.index = 0;
}

static void
give_reply(Session* const session, const bool is_thought, SessionOut* const out)
{
  const Turn* const turn = &session->reply.turn;
  if (session->reply.call.index > 0) {
    presume_call(session, is_thought);
    close_call(session, out);
  }
  if (is_answered(session)) {
    TurnRecord* const record = new_record(out);
    say_reply(session, is_thought, record);
    coming_say(session, record);
  } else if (turn->start < session->end && asked_is_recalled(turn)) {
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
  const ReplyStep step       = reply_step(&session->reply,
                                    &session->hearing,
                                    SESSION_LEAD,
                                    session->options.chart->meter);
  const bool      is_thought = !step.begins && is_answered(session);
  if (step.gives && is_thought) {
    catch_up(session);
  }
  if (step.gives && session->now < session->reply.turn.start - SESSION_LEAD) {
    come_in(session, is_thought);
  } else if (step.gives) {
    give_reply(session, is_thought, out);
  } else if (step.begins && is_answered(session)) {
    begin_to_think(session, presume(session));
  } else if (step.goes_on && is_answered(session)) {
    if (session->options.thinks_when_due) {
      ++session->reply.n_owed;
    } else {
      think_on(session);
    }
  }
}

Tick
answering_next(const Session* const session)
{
  return session->ahead.call.index > 0 ? session->ahead.at : INT64_MAX;
}

// Whether the call may yet come to a landing after the line
static bool
waits(const Session* const session)
{
  const Ahead* const ahead = &session->ahead;
  const Meter        meter = session->options.chart->meter;
  return ahead->at == ahead->reply.turn.start - SESSION_LEAD &&
         reply_runs_over(&ahead->reply, &session->hearing, meter);
}

// What the partner said before the call is what it is judged by
void
answering_close(Session* const session, SessionOut* const out)
{
  Ahead* const ahead = &session->ahead;
  if (waits(session)) {
    ahead->at += reply_wait(session->options.chart->meter);
    return;
  }
  session->next_answer = session->answer;
  session->answer      = ahead->said;
  session->reply.call  = ahead->call;
  session->standing    = ahead->before;
  presume_call(session, true);
  close_call(session, out);
  session->answer          = session->next_answer;
  TurnRecord* const record = new_record(out);
  *record                  = ahead->answer;
  partner_turn_remember(session, record);
  coming_say(session, record);
  ahead->call.index = 0;
}
