#include "responder/session/session.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

// When a turn is taken as silent, overfull, crowded or lost; common practice,
// no source.
static const double   overfull_space    = 0.06; // Less rest than this
static const double   overfull_onsets   = 6.0; // ... and this many in a 4/4 bar
static const double   crowded_share     = 0.5; // Of the partner's turn
static const double   lost_beats        = 0.5; // Late or early by as much
static const double   found_beats       = 0.15; // On some beat again
static const double   drifting_beats    = 0.15; // Late beyond what is usual
static const unsigned crowded_for_offer = 2;
static const unsigned silent_for_fragments = 3;
static const unsigned silent_for_asking    = 4;

enum { STREAM_BAND = 1, STREAM_FIRST_TURN = 16 };

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

static void
play_later(Session* const session, PartNote part_note)
{
  const Tick left = session_last_tick(session) - part_note.note.tick;
  assert(left > 0);
  if (part_note.note.length > left) {
    part_note.note.length = left;
  }
  agenda_add(&session->agenda, part_note);
}

static void
play_bar_later(Session* const session)
{
  for (unsigned i = 0; i < session->bar.n_notes; ++i) {
    play_later(session, session->bar.notes[i]);
  }
}

// The band

static bool
is_lost(const Session* const session)
{
  return fabs(session->drift_beats) > lost_beats;
}

static BandFullness
fullness(const Session* const session)
{
  if (is_lost(session)) {
    return BAND_ROOTS;
  }
  const bool thins_for_player = !session->options.band_thins_for_partner;
  return session->turn.by_player == thins_for_player ? BAND_THIN : BAND_FULL;
}

static void
decide_bar(Session* const session)
{
  if (session->next_bar < session->end) {
    band_play_bar(
      &session->band, session->next_bar, fullness(session), &session->bar);
  } else {
    band_end(&session->band, session->next_bar, &session->bar);
  }
  play_bar_later(session);
  session->next_bar += bar_ticks(session);
}

// Turns

static TurnRecord*
new_record(const Session* const session, SessionOut* const out)
{
  assert(out->n_turns < 2);
  TurnRecord* const record = &out->turns[out->n_turns++];
  *record = (TurnRecord){.turn = session->turn, .rung = session->climb.rung};
  return record;
}

// The ear knows the player by the turns so far. One who drifts away is followed
// from the turn before, and not heard as playing between the beats.
static Ear
following_ear(const Session* const session)
{
  Ear ear          = session_ear(&session->options);
  ear.acquaintance = &session->player;
  if (fabs(session->drift_beats) > drifting_beats && !is_lost(session)) {
    ear.lag_ms = session->lag_ms;
  }
  return ear;
}

static void
follow_drift(Session* const session, const Phrase* const phrase)
{
  const double ms_per_beat =
    60000.0 / session->options.tempo_bpm *
    (double)meter_beat_ticks(chart_of(session)->meter) / TICKS_PER_QUARTER;
  const double heard = (double)phrase->measures.offset_ms / ms_per_beat;

  // A player far behind is heard as playing off the beat: of the readings half
  // a beat apart, the one nearest to the last turn's goes on from it. Whoever
  // is lost comes back to the band's own beat.
  const double moved   = session->drift_beats - heard;
  const bool   is_back = is_lost(session) && fabs(heard) < found_beats;
  session->drift_beats = is_back ? heard : heard + round(2.0 * moved) / 2.0;
  session->lag_ms      = session->drift_beats * ms_per_beat;
}

static void
meet_idea(Session* const session, TurnRecord* const record)
{
  const Idea idea     = idea_of(&record->phrase, record->turn.by_player);
  float      likeness = 0.0F;
  record->idea        = ideas_meet(&session->ideas, &idea, &likeness);
  record->likeness    = likeness;
}

static void
hear_player(Session* const session, TurnRecord* const record)
{
  const Turn     turn = session->turn;
  const Ear      ear  = following_ear(session);
  const unsigned n    = hearing_span(&session->hearing,
                                  turn.start - pick_up_ticks(session),
                                  session->now,
                                  turn.end,
                                  session->notes);
  hear_phrase(&record->phrase,
              &session->hear_work,
              &ear,
              session->notes,
              n,
              turn.start,
              turn.end);
  hearing_forget(&session->hearing, session->now);
}

// Who is lost shows nothing of how he keeps time
static void
know_player(Session* const session, const Phrase* const phrase)
{
  if (!is_lost(session)) {
    const Ear ear = session_ear(&session->options);
    hear_learn(&session->player, &ear, phrase);
  }
}

static void
judge_player(Session* const    session,
             TurnRecord* const record,
             const unsigned    n_ideas_before)
{
  const SessionOptions* const options = &session->options;
  const Answer* const         answer  = &session->answer;
  const OutcomeView           view    = {
                 .ladder = options->ladder,
                 .rung   = record->rung,
                 .spread_ms = options->usual_spread_ms > 0.0 ? options->usual_spread_ms
                                                             : options->spread_ms,
                 .is_lost   = record->is_lost,
                 .said      = answer->n_notes ? &answer->heard : NULL,
                 .is_return = record->idea && record->idea <= n_ideas_before,
  };
  record->outcome = outcome_judge(&record->phrase, &view);
}

// The next answer stands on the rung that this turn leads to
static void
move_rung(Session* const session, TurnRecord* const record)
{
  const ClimbPlan* const plan    = &session->options.plan;
  const bool             success = outcome_succeeds(&record->outcome);
  if (!record->outcome.is_judged || !climb_has_plan(plan)) {
    return;
  }
  if (success) {
    Rung heard                   = record->phrase.rung;
    heard.level[DIMENSION_SHAPE] = 0; // One phrase shows none
    climb_learn(&session->climb, heard);
  }
  record->climb = climb_turn(&session->climb, plan, success);
}

static void
say_remark(Session* const session, TurnRecord* const record)
{
  const Sentences* const sentences    = session_sentences(&session->options);
  const bool             was_answered = session->history.n_answers > 0;
  if (session->options.script && !was_answered) {
    remark_echo(&session->remarks,
                sentences,
                &record->phrase,
                &session->answer.heard,
                record->remark);
  } else {
    remark_turn(&session->remarks,
                sentences,
                chart_of(session),
                &record->phrase,
                session->silent_turns,
                record->remark);
  }
}

static void
decide_player_turn(Session* const session, SessionOut* const out)
{
  TurnRecord* const record         = new_record(session, out);
  const unsigned    n_ideas_before = session->ideas.n_seen;
  hear_player(session, record);

  if (record->phrase.n_notes) {
    session->silent_turns = 0;
    follow_drift(session, &record->phrase);
    meet_idea(session, record);
    know_player(session, &record->phrase);
  } else {
    ++session->silent_turns;
  }
  record->is_lost       = is_lost(session);
  record->asks_to_stop  = session->silent_turns == silent_for_asking;
  record->offers_longer = session->crowded_turns == crowded_for_offer &&
                          !session->options.script; // Who sets his turns
  session->call = record->phrase;
  judge_player(session, record, n_ideas_before);
  move_rung(session, record);
  say_remark(session, record);
}

static bool
is_overfull(const Session* const session)
{
  const Measures* const measures = &session->call.measures;
  const double          bars_of_four =
    (double)bar_ticks(session) / (4.0 * TICKS_PER_QUARTER);
  return (double)measures->space < overfull_space &&
         (double)measures->onsets_per_bar > overfull_onsets * bars_of_four;
}

static Treatment
treatment(const Session* const session)
{
  if (session->silent_turns >= silent_for_fragments) {
    return TREAT_FRAGMENTS;
  }
  if (!session->call.n_notes) {
    return TREAT_SIMPLER;
  }
  return is_overfull(session) ? TREAT_SPACE : TREAT_ANSWER;
}

static SayRequest
request_of(const Session* const session)
{
  const SessionOptions* const options = &session->options;
  const Turn                  turn    = session->turn;
  return (SayRequest){
    .ear             = session_ear(options),
    .rung            = session->climb.rung,
    .start           = turn.start,
    .end             = turn.end,
    .call            = &session->call,
    .ideas           = &session->ideas,
    .history         = &session->history,
    .lowest          = options->lowest,
    .highest         = options->highest,
    .hand_span       = options->hand_span,
    .swing_ratio     = feel_swing_ratio(options->feel, options->tempo_bpm),
    .treatment       = treatment(session),
    .turn_in_chorus  = turn.turn_in_chorus,
    .turns_in_chorus = turn.turns_in_chorus,
    .ends_chorus     = turn.ends_chorus,
  };
}

// Whether the partner's turn is one that was written beforehand
static bool
follows_script(const Session* const session)
{
  const Script* const script = session->options.script;
  return script && !(script->answers && session->call.n_notes);
}

static void
decide_partner_turn(Session* const session, SessionOut* const out)
{
  TurnRecord* const record  = new_record(session, out);
  const SayRequest  request = request_of(session);
  Rng               rng =
    rng_seed(session->options.seed, STREAM_FIRST_TURN + session->turn.index);
  Answer* const answer = &session->answer;
  if (follows_script(session)) {
    script_answer(session->options.script, &request.ear, &record->turn, answer);
  } else {
    say_answer(answer, &session->say_work, &request, &rng);
    say_remember(&session->history, answer, session->turn.begins_chorus);
  }
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    play_later(session, (PartNote){answer->notes[i], PART_PARTNER});
  }

  record->phrase    = answer->heard;
  record->move      = answer->move;
  record->treatment = request.treatment;
  record->answers   = answer->likeness;
  (void)snprintf(record->why, sizeof(record->why), "%s", answer->why);
  meet_idea(session, record);
}

static void
leave_partner_turn(Session* const session)
{
  const Turn   turn  = session->turn;
  const Tick   to    = turn.end - pick_up_ticks(session);
  const double share = hearing_share(&session->hearing, turn.start, to, to);
  session->crowded_turns =
    share > crowded_share ? session->crowded_turns + 1 : 0;
  hearing_forget(&session->hearing, to);
}

static void
enter_turn(Session* const session, const unsigned index, SessionOut* const out)
{
  session->turn = turn_at(session_turn_plan(&session->options), index);
  if (!session->turn.by_player && session->turn.start < session->end) {
    decide_partner_turn(session, out);
  }
}

// Decide what the end of the present turn asks for, and go on to the next
static void
change_turn(Session* const session, SessionOut* const out)
{
  if (session->turn.index == 0) {
    hearing_forget(&session->hearing, -pick_up_ticks(session));
  } else if (session->turn.by_player) {
    decide_player_turn(session, out);
  } else {
    leave_partner_turn(session);
  }
  enter_turn(session, session->turn.index + 1, out);
}

// An idea of the notebook is the first of the session, which is returned to
static void
remember_kept(Session* const session)
{
  float likeness = 0.0F;
  if (session->options.kept) {
    Idea kept    = *session->options.kept;
    kept.is_kept = true;
    (void)ideas_meet(&session->ideas, &kept, &likeness);
  }
}

void
session_begin(Session* const session, const SessionOptions* const options)
{
  *session = (Session){.options = *options};
  session->climb =
    climb_begin(&options->plan, options->rung, options->budget, options->skill);
  session->end = options->choruses * chart_ticks(options->chart);
  remember_kept(session);
  band_begin(&session->band,
             options->chart,
             options->feel,
             options->tempo_bpm,
             rng_seed(options->seed, STREAM_BAND));

  const unsigned bars = band_count_in(&session->band, 0, &session->bar);
  session->first      = -(Tick)bars * bar_ticks(session);
  session->now        = session->first;
  play_bar_later(session);
}

Tick
session_first_tick(const Session* const session)
{
  return session->first;
}

Tick
session_last_tick(const Session* const session)
{
  return session->end + bar_ticks(session);
}

bool
session_is_over(const Session* const session)
{
  return session->now >= session_last_tick(session);
}

Tick
session_hear(Session* const session, HeardKey key)
{
  if (key.tick < session->now) {
    key.tick = session->now;
  }
  hearing_key(&session->hearing, key);
  return key.tick;
}

static bool
has_room(const SessionOut* const out)
{
  return out->n_played < SESSION_PLAYED_CAPACITY && out->n_turns == 0;
}

// The tick of the next decision: the bar and the turn that begins with it share
// theirs.
static Tick
next_decision(const Session* const session)
{
  return session->next_bar - SESSION_LEAD;
}

static void
decide(Session* const session, SessionOut* const out)
{
  if (session->next_bar == session->turn.end &&
      session->next_bar <= session->end) {
    change_turn(session, out);
  }
  decide_bar(session);
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
  while (session->now < until && has_room(out)) {
    const bool decides =
      next_decision(session) < until && session->next_bar <= session->end;
    const Tick next = decides ? next_decision(session) : until;
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
