#include "responder/session/session.h"

#include "responder/say/why.h"
#include "responder/session/answering.h"
#include "responder/session/asked.h"
#include "responder/session/partner_turn.h"
#include "responder/session/player_turn.h"
#include "responder/session/sounding.h"

#include <assert.h>

// Of the partner's turn, that the player fills; common practice, no source.
static const double crowded_share = 0.5;

static const Chart*
chart_of(const Session* const session)
{
  return session->options.chart;
}

static Tick
bar_ticks(const Session* const session)
{
  return meter_bar_ticks(chart_of(session)->meter);
}

static Tick
pick_up_ticks(const Session* const session)
{
  return meter_beat_ticks(chart_of(session)->meter) / 2;
}

TurnPlan
session_turn_plan(const SessionOptions* const options)
{
  return (TurnPlan){
    .bar_ticks       = meter_bar_ticks(options->chart->meter),
    .bars_per_chorus = options->chart->n_bars,
    .bars_per_turn   = options->bars_per_turn,
    .way             = options->way,
    .player_begins   = !options->partner_begins,
    .makes_room      = options->makes_room,
  };
}

Ear
session_ear(const SessionOptions* const options)
{
  Ear ear = ear_usual(options->chart, options->ladder, options->tempo_bpm);
  ear.split_pitch = options->split_pitch;
  ear.spread_ms   = options->spread_ms;
  ear.lag_ms      = options->lag_ms != 0.0 ? options->lag_ms : ear.lag_ms;
  ear.swing_ratio = feel_swing_ratio(options->feel, options->tempo_bpm);
  return ear;
}

const Sentences*
session_sentences(const SessionOptions* const options)
{
  return options->sentences ? options->sentences : sentences_plain();
}

AimStand
session_first_aim(const SessionOptions* const options)
{
  const unsigned rung = options->rung.level[DIMENSION_NOTES];
  return aim_begin(&options->ladder->notes[rung - 1], options->seed);
}

Tick
session_closing_end(const Session* const session)
{
  return session->end + bar_ticks(session);
}

const char*
session_turn_name(const TurnRecord* const record)
{
  return record->turn.task != TASK_FREE ? task_name(record->turn.task)
         : record->turn.by_player       ? ""
                                        : why_name(record->is, record->move);
}

// Turns

static void
leave_partner_turn(Session* const session)
{
  const Turn   turn  = session->turn;
  const Tick   to    = turn.end - pick_up_ticks(session);
  const double share = hearing_share(&session->hearing, turn.start, to, to);
  session->crowded_turns =
    share > crowded_share ? session->crowded_turns + 1 : 0;
  const TurnPlan plan = session_turn_plan(&session->options);
  const Turn     call = turn.index > 1 ? turn_at(plan, turn.index - 1) : turn;
  if (call.by_player &&
      hearing_has_onset(&session->hearing, session->called_until, turn.start)) {
    player_turn_complete(session, &call, turn.start);
  }
  hearing_forget(&session->hearing, to);
}

// Whether nothing of the partner's is to be decided at a turn's beginning
static bool
leaves_time(const Turn* const turn)
{
  return turn->by_player && !asked_is_recalled(turn);
}

static void
enter_turn(Session* const session, const unsigned index)
{
  const TurnPlan plan  = session_turn_plan(&session->options);
  Turn           next  = turn_at(plan, index + 1);
  const Turn     after = turn_at(plan, index + 2);
  next.start = tick_least(next.start, session->end); // Nobody sings after it
  if (next.task == TASK_CELL && next.end >= session->end) {
    next.task = TASK_FREE; // Nobody can give it back
  }
  session->turn    = index > 0 ? turn_at(plan, index) : (Turn){0};
  const bool hears = session->turn.by_player;
  if ((hears || !leaves_time(&next)) && session->turn.start < session->end) {
    const Turn call = hears ? session->turn : (Turn){0};
    session->reply =
      reply_open(&call, &next, SESSION_LEAD, chart_of(session)->meter);
    // A cell comes right at the line; where it was sung first, nobody plays
    const bool is_free = !session->options.script && next.task != TASK_CELL &&
                         (!next.by_player || next.start >= session->end);
    session->reply.may_come_in =
      is_free && next.silence == next.start && next.start < session->end;
    // A line said again begins at the line; where room was made nobody lands
    // after it
    session->reply.may_wait = is_free && next.task != TASK_AGAIN &&
                              !session->options.makes_room &&
                              leaves_time(&after);
  }
}

static Climb
climb_from(const Session* const session, const Climb* const climb, Rung rung)
{
  return climb_begin(&session->options.plan, rung, climb->budget, climb->skill);
}

// What is presumed meanwhile is to become what stands
static void
take_change(Session* const session, SessionChange* const change)
{
  *change        = session->asked;
  change->from   = session->turn.start;
  session->asked = (SessionChange){.from = 0};
  if (change->tempo_bpm > 0.0) {
    session->options.tempo_bpm = change->tempo_bpm;
    band_change_tempo(&session->band, change->tempo_bpm);
  }
  if (change->rung.level[DIMENSION_NOTES]) {
    Standing* const stands[] = {
      &session->standing, &session->presumed, &session->ahead.before};
    for (unsigned i = 0; i < 3; ++i) {
      stands[i]->climb = climb_from(session, &stands[i]->climb, change->rung);
    }
  }
}

static bool
next_is_players(const Session* const session)
{
  return turn_at(session_turn_plan(&session->options), session->turn.index + 1)
    .by_player;
}

// Leave the present turn and go on to the next
static void
change_turn(Session* const session, SessionOut* const out)
{
  if (session->turn.index == 0) {
    hearing_forget(&session->hearing, -pick_up_ticks(session));
  } else if (!session->turn.by_player) {
    leave_partner_turn(session);
  } else if (session->reply.turn.index == 0 && next_is_players(session)) {
    hearing_forget(&session->hearing,
                   session->turn.end - pick_up_ticks(session));
  }
  enter_turn(session, session->turn.index + 1);
  if (change_is_any(&session->asked)) {
    take_change(session, &out->change);
  }
}

// An idea of the notebook is the first of the session, which is returned to
static void
remember_kept(Session* const session)
{
  float likeness = 0.0F;
  if (session->options.kept) {
    Idea kept    = *session->options.kept;
    kept.is_kept = true;
    (void)ideas_meet(&session->standing.ideas, &kept, &likeness);
  }
}

void
session_begin(Session* const session, const SessionOptions* const options)
{
  *session = (Session){.options = *options};
  session->standing.climb =
    climb_begin(&options->plan, options->rung, options->budget, options->skill);
  session->standing.echo = echo_begin();
  session->remarks.first = (unsigned)options->seed;
  session->aim           = session_first_aim(options);
  session->end           = options->choruses * chart_ticks(options->chart);
  session->last = session_closing_end(session) + sounding_coda_ticks(options);
  remember_kept(session);
  sounding_count_in(session);
  session->now = session->first;
  enter_turn(session, 0);
}

Tick
session_first_tick(const Session* const session)
{
  return session->first;
}

Tick
session_last_tick(const Session* const session)
{
  return session->last;
}

bool
session_is_over(const Session* const session)
{
  return session->now >= session_last_tick(session);
}

Tick
session_hear(Session* const session, HeardKey key)
{
  const Tick behind   = session->options.listens_behind;
  const Tick earliest = session->now - behind;
  if (key.tick < earliest) {
    key.tick = earliest;
  }
  if (behind) {
    return waiting_add(&session->waiting, key);
  }
  hearing_key(&session->hearing, key);
  return key.tick;
}

static Tick
next_key(const Session* const session)
{
  const Tick behind = session->options.listens_behind;
  return waiting_next(&session->waiting, INT64_MAX - behind) + behind;
}

static void
hear_waiting(Session* const session)
{
  while (next_key(session) <= session->now) {
    hearing_key(&session->hearing, waiting_take(&session->waiting));
  }
}

void
session_change(Session* const session, const SessionChange* const change)
{
  change_add(&session->asked, change);
}

static bool
has_room(const SessionOut* const out)
{
  return out->n_played < SESSION_PLAYED_CAPACITY && out->n_turns == 0 &&
         !change_is_any(&out->change);
}

// The tick of the next bar's decision: the turn that begins with it shares it
static Tick
next_bar_decision(const Session* const session)
{
  const Tick last =
    session->options.plays_back ? session_closing_end(session) : session->end;
  return session->next_bar <= last ? session->next_bar - SESSION_LEAD
                                   : INT64_MAX;
}

static Tick
next_reply_step(const Session* const session)
{
  return session->reply.turn.index > 0 ? session->reply.next : INT64_MAX;
}

static Tick
next_decision(const Session* const session)
{
  const Tick own =
    tick_least(next_bar_decision(session), next_reply_step(session));
  return tick_least(next_key(session),
                    tick_least(own, answering_next(session)));
}

// An answer is decided before the bar that it sounds over, and after all that
// was heard by then
static void
decide(Session* const session, SessionOut* const out)
{
  hear_waiting(session);
  if (answering_next(session) == session->now) {
    answering_close(session, out);
  }
  if (next_reply_step(session) == session->now) {
    answering_step(session, out);
  }
  if (next_bar_decision(session) == session->now) {
    if (session->next_bar == session->turn.end &&
        session->next_bar <= session->end) {
      change_turn(session, out);
    }
    if (session->next_bar > session->end) {
      sounding_coda(session);
      session->next_bar += bar_ticks(session);
    } else {
      sounding_bar(session);
    }
  }
}

static void
hand_over(Session* const session, const Tick until, SessionOut* const out)
{
  while (out->n_played < SESSION_PLAYED_CAPACITY &&
         agenda_take(&session->agenda, until, &out->played[out->n_played])) {
    ++out->n_played;
  }
}

bool
session_take_ahead(Session* const  session,
                   const Tick      before,
                   PartNote* const note)
{
  return agenda_take(&session->agenda, before, note);
}

Tick
session_advance(Session* const session, const Tick until, SessionOut* const out)
{
  out->n_played = 0;
  out->n_turns  = 0;
  out->change   = (SessionChange){.from = 0};
  while (session->now < until && has_room(out)) {
    const Tick decision = next_decision(session);
    const bool decides  = decision < until;
    const Tick next     = decides ? decision : until;
    hand_over(session, next, out);
    if (out->n_played == SESSION_PLAYED_CAPACITY) {
      break; // What is left of this moment comes with the next advance
    }
    session->now = next;
    if (decides) {
      decide(session, out);
    }
  }
  return session->now;
}
