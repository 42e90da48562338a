#include "responder/session/player_turn.h"

#include "core/music/pitch.h"
#include "responder/session/asked.h"
#include "responder/session/facts.h"
#include "responder/session/fit.h"

#include <math.h>
#include <stdlib.h>

// When a player is lost, found, or asked whether to stop; common practice, no
// source.
static const double   lost_beats        = 0.5;  // Late or early by as much
static const double   found_beats       = 0.15; // On some beat again
static const double   drifting_beats    = 0.15; // Late beyond what is usual
static const double   wandering_beats   = 0.03; // About the step before
static const unsigned crowded_for_offer = 2;
static const unsigned longest_turn      = 4; // Bars; no choice is longer

// Goals that are missed one after the other make the partner's turns simpler by
// a step, until one is met; common practice, no source.
static const unsigned misses_for_easier = 3;
static const unsigned easiest           = 2; // Steps

// From where on a phrase is the one before said again: above what makes an idea
// come back (ideas.c), since here it is to be heard as a repetition.
static const float said_again  = 0.75F;
static const float other_notes = 0.6F; // Less alike in pitch than this

// ... and from where on it is any other one that was said before
static const unsigned other_in   = 10; // One note in so many may be another
static const Tick     same_place = TICKS_PER_QUARTER / 4;
static const unsigned own_notes  = 3; // Fewer are nobody's own

// Notes so near to the first are one chord; common practice, no source.
static const Tick together = TICKS_PER_QUARTER / 16;

// A first beat may be struck too soon by a shade; so many of them are half a
// beat. Likewise.
static const Tick shades_in_half = 4;

bool
player_is_lost(const Standing* const standing)
{
  return fabs(standing->drift_beats) > lost_beats;
}

// The ear knows the player by the turns so far. One who drifts away is followed
// from the turn before, and not heard as playing between the beats.
static Ear
following_ear(const Session* const session)
{
  const Standing* const standing = &session->standing;
  Ear                   ear      = session_ear(&session->options);
  ear.acquaintance               = &standing->player;
  if (fabs(standing->drift_beats) > drifting_beats) {
    ear.lag_ms = standing->lag_ms;
  }
  return ear;
}

static bool
goes_on(const Session* const session, const Turn* const turn)
{
  const TurnPlan plan = session_turn_plan(&session->options);
  return turn->index > 1 && turn_at(plan, turn->index - 1).by_player;
}

// A turn begins with its pick-ups, unless it goes on with what is played along:
// then with what comes a shade before its first beat
static Tick
first_heard(const Session* const session, const Turn* const turn)
{
  const Tick half     = meter_beat_ticks(session->options.chart->meter) / 2;
  const bool is_along = asked_is_recalled(turn) && goes_on(session, turn);
  return turn->start - (is_along ? half / shades_in_half : half);
}

static Turn
turn_after(const Session* const session, const Turn* const turn)
{
  return turn_at(session_turn_plan(&session->options), turn->index + 1);
}

// Where the player goes on, the next turn's pick-ups are its own
static Tick
last_heard(const Session* const session, const Turn* const turn)
{
  const Turn next = turn_after(session, turn);
  return next.by_player ? first_heard(session, &next) : turn->end;
}

// Whether a line that runs on does so in the player's own time, or in a bar
// that is left free; what comes over the partner's turn is no part of it
static bool
has_time_after(const Session* const session, const Turn* const turn)
{
  const Turn next = turn_after(session, turn);
  return next.by_player || next.silence < next.start;
}

static void
hear(Session* const    session,
     const Turn* const turn,
     const Tick        now,
     Phrase* const     phrase)
{
  const Ear      ear = following_ear(session);
  const unsigned n   = hearing_span(&session->hearing,
                                  first_heard(session, turn),
                                  tick_least(now, last_heard(session, turn)),
                                  turn->end,
                                  session->notes);
  hear_phrase(phrase,
              &session->hear_work,
              &ear,
              session->notes,
              n,
              turn->start,
              turn->end);
  const Tick     last    = last_heard(session, turn);
  const unsigned n_after = hearing_span(
    &session->hearing, tick_least(last, turn->end), now, now, session->notes);
  hear_landing(phrase, &ear, session->notes, n_after);
  phrase->runs_on = phrase->runs_on && has_time_after(session, turn);
}

static void
follow_drift(Standing* const             standing,
             const SessionOptions* const options,
             const Phrase* const         phrase)
{
  const double ms_per_beat = 60000.0 / options->tempo_bpm *
                             (double)meter_beat_ticks(options->chart->meter) /
                             TICKS_PER_QUARTER;
  const double heard = (double)phrase->measures.offset_ms / ms_per_beat;

  // A player far behind is heard as playing off the beat: of the readings half
  // a beat apart, the one nearest to the last turn's goes on from it. Whoever
  // is lost comes back to the band's own beat, but not by wandering on as far
  // as in the turn before: so the next beat is reached.
  const double moved   = standing->drift_beats - heard;
  const double step    = round(2.0 * moved) / 2.0 - moved;
  const bool   goes_on = step * standing->drift_beats > 0.0 &&
                       fabs(step - standing->step_beats) < wandering_beats;
  const bool is_back =
    player_is_lost(standing) && fabs(heard) < found_beats && !goes_on;
  standing->step_beats  = is_back ? 0.0 : step;
  standing->drift_beats = is_back ? heard : standing->drift_beats + step;
  standing->lag_ms      = standing->drift_beats * ms_per_beat;
}

// Who is lost shows nothing of how he keeps time
static void
know_player(Standing* const             standing,
            const SessionOptions* const options,
            const Phrase* const         phrase)
{
  if (!player_is_lost(standing)) {
    const Ear ear = session_ear(options);
    hear_learn(&standing->player, &ear, phrase);
  }
}

// Whether most notes of a phrase are those of another, in their places
static bool
is_same(const Idea* const a, const Idea* const b)
{
  unsigned n = 0;
  for (unsigned i = 0; a->n_notes == b->n_notes && i < a->n_notes; ++i) {
    const Tick at    = a->ticks[i] - a->ticks[0];
    const Tick other = b->ticks[i] - b->ticks[0];
    n += a->pitches[i] % OCTAVE == b->pitches[i] % OCTAVE &&
         llabs(at - other) <= same_place;
  }
  return a->n_notes >= own_notes && other_in * (a->n_notes - n) <= a->n_notes;
}

// Whether a phrase is one that the player said before; looked at whenever there
// is a moment to think, so it is not searched for as an idea is
static bool
is_known(const Session* const session, const Idea* const idea)
{
  const unsigned n =
    session->n_own < OWN_CAPACITY ? session->n_own : OWN_CAPACITY;
  bool is = false;
  for (unsigned i = 0; i < n && !is; ++i) {
    is = is_same(&session->own[i], idea);
  }
  return is;
}

static void
meet_idea(const Session* const session,
          Standing* const      standing,
          TurnRecord* const    record)
{
  const Idea     idea  = idea_of(&record->phrase, true);
  const Likeness as    = idea_likeness(&standing->said, &idea);
  const bool     again = as.whole >= said_again;
  standing->times_said = again ? standing->times_said + 1 : 1;
  standing->is_rhythm  = again && as.pitch < other_notes;
  standing->comes_back = !again && is_known(session, &idea);
  standing->comes_again =
    again || standing->comes_back || idea_has_stretch(&standing->said, &idea);
  standing->said = idea;
  record->idea   = ideas_meet(&standing->ideas, &idea, &record->likeness);
}

static Goal
goal_of(const Turn* const turn, const Standing* const standing)
{
  static const Goal goals[N_TASKS] = {
    [TASK_ASK]   = GOAL_ASK,
    [TASK_CLOSE] = GOAL_CLOSE,
    [TASK_FEW]   = GOAL_FEW,
    [TASK_LINE]  = GOAL_LINE,
    [TASK_AGAIN] = GOAL_AGAIN,
    [TASK_LAST]  = GOAL_LAST,
    [TASK_ALONG] = GOAL_ALONG,
    [TASK_ALONE] = GOAL_ALONE,
    [TASK_SING]  = GOAL_SING,
  };
  return turn->task == TASK_GIVE_BACK ? standing->echo.asks : goals[turn->task];
}

// Return the top one of the notes that are struck together first
static Note
top_of_first(const Note* const notes, const unsigned n)
{
  Note top = notes[0];
  for (unsigned i = 1; i < n && notes[i].tick - notes[0].tick <= together;
       ++i) {
    top = notes[i].pitch > top.pitch ? notes[i] : top;
  }
  return top;
}

// Whoever comes in with a pick-up is silent; of who plays on, what came a shade
// before the first beat is the first
static void
hear_silence(Session* const session, TurnRecord* const record)
{
  const Turn* const turn = &record->turn;
  const Tick        half = meter_beat_ticks(session->options.chart->meter) / 2;
  const Tick froms[] = {turn->silence, turn->silence - half / shades_in_half};
  for (unsigned i = 0; i < 2 && (i == 0 || record->n_early); ++i) {
    record->n_early = hearing_span(&session->hearing,
                                   froms[i],
                                   turn->start - half,
                                   turn->start,
                                   session->notes);
  }
  record->early =
    record->n_early ? top_of_first(session->notes, record->n_early) : (Note){0};
}

static void
judge(const Session* const  session,
      const Standing* const after,
      TurnRecord* const     record,
      const unsigned        n_ideas_before)
{
  const SessionOptions* const options = &session->options;
  const Answer* const         answer  = &session->answer;
  const Phrase* const         said    = answer->n_notes ? &answer->heard : NULL;
  const bool        is_return = record->idea && record->idea <= n_ideas_before;
  const OutcomeView view      = {
         .spread_ms = options->usual_spread_ms > 0.0 ? options->usual_spread_ms
                                                     : options->spread_ms,
         .is_lost   = record->is_lost,
         .said      = said,
         .is_return = is_return,
         .goal      = goal_of(&record->turn, &session->standing),
         .against   = {.chart = options->chart,
                       .said  = said,
                       .whole =
                  asked_is_recalled(&record->turn) ? &session->cell : NULL,
                       .line       = &session->standing.line,
                       .n_notes    = pattern_few(record->turn.chorus),
                       .was_silent = record->n_early == 0,
                       .was_said   = after->comes_back ||
                                   (is_return && record->likeness >= said_again)},
  };
  record->outcome = outcome_judge(&record->phrase, &view);
}

// The next answer stands on the rung that this turn leads to
static void
move_rung(Standing* const        standing,
          const ClimbPlan* const plan,
          TurnRecord* const      record)
{
  const bool success = outcome_succeeds(&record->outcome);
  if (!climb_has_plan(plan) || !outcome_tells_of_rung(&record->outcome)) {
    return;
  }
  if (success) {
    Rung heard                   = record->phrase.rung;
    heard.level[DIMENSION_SHAPE] = 0; // One phrase shows none
    climb_learn(&standing->climb, heard);
  }
  record->climb = climb_turn(&standing->climb, plan, success);
}

// Who gives more than was asked for is credited with that, and goes on from a
// cell as long as this one was
static void
follow_echo(const Phrase* const cell,
            TurnRecord* const   record,
            EchoStand* const    echo)
{
  if (!record->phrase.n_notes) {
    *echo = echo_wait(*echo);
    return;
  }
  const EchoPart came  = goal_echo(&record->phrase, cell);
  const Goal     asked = echo->asks;
  echo->n_notes = cell->n_notes > echo->n_notes ? cell->n_notes : echo->n_notes;
  *echo         = echo_go_on(*echo, came);
  if (record->outcome.miss == MISS_NOTHING) {
    const Goal gave      = (Goal)(GOAL_RHYTHM + (came - ECHO_RHYTHM));
    record->outcome.goal = gave > asked ? gave : asked;
  }
}

static void
follow_few(const Chart* const  chart,
           const Phrase* const phrase,
           Standing*           after)
{
  const unsigned most = fit_most_notes(phrase, chart);
  after->is_fewer     = most && most < after->most_notes;
  after->most_notes   = most ? most : after->most_notes;
}

static void
follow_misses(const Outcome* const outcome, Standing* const after)
{
  if (!outcome->is_judged || outcome->goal == GOAL_NONE) {
    return;
  }
  if (outcome->miss == MISS_NOTHING) {
    after->misses = 0;
    after->eased -= after->eased > 0;
  } else if (++after->misses % misses_for_easier == 0) {
    after->eased += after->eased < easiest;
  }
}

// What the turn leads to in the way of playing
static void
follow_way(const Session* const session,
           TurnRecord* const    record,
           Standing* const      after)
{
  follow_misses(&record->outcome, after);
  if (record->turn.task == TASK_GIVE_BACK) {
    follow_echo(&session->answer.heard, record, &after->echo);
  } else if (record->turn.task == TASK_LINE) {
    after->line = idea_of(&record->phrase, true);
  } else if (record->turn.task == TASK_FEW) {
    follow_few(session->options.chart, &record->phrase, after);
  }
}

void
player_turn_hear(Session* const    session,
                 const Turn* const turn,
                 const Tick        now,
                 Standing* const   after,
                 TurnRecord* const record)
{
  const SessionOptions* const options = &session->options;
  *after                              = session->standing;
  *record = (TurnRecord){.turn = *turn, .rung = after->climb.rung};
  hear(session, turn, now, &record->phrase);
  hear_silence(session, record);

  if (record->phrase.n_notes) {
    after->silent_turns = 0;
    follow_drift(after, options, &record->phrase);
    meet_idea(session, after, record);
    know_player(after, options, &record->phrase);
  } else {
    ++after->silent_turns;
    after->times_said  = 0;
    after->comes_again = false;
    after->comes_back  = false;
  }
  record->is_lost = player_is_lost(after);
  record->asks_to_stop =
    after->silent_turns == FACTS_SILENT_FOR_ASKING && !record->n_early;
  record->offers_longer =
    session->crowded_turns == crowded_for_offer && record->phrase.n_notes > 0 &&
    !options->script && // Who sets his turns
    options->bars_per_turn < longest_turn && options->way == WAY_ANSWER &&
    session->aim.aim != AIM_ROOM; // Asks for less
  after->call = record->phrase;
  judge(session, after, record, session->standing.ideas.n_seen);
  follow_way(session, record, after);
  move_rung(after, &options->plan, record);
}

void
player_turn_keep(Session* const session, const TurnRecord* const record)
{
  if (record->phrase.n_notes) {
    session->own[session->n_own++ % OWN_CAPACITY] = session->standing.said;
  }
}

void
player_turn_complete(Session* const    session,
                     const Turn* const turn,
                     const Tick        now)
{
  Standing* const standing = &session->standing;
  float           likeness = 0.0F;
  session->n_own -= standing->call.n_notes > 0; // It is kept anew
  hear(session, turn, now, &standing->call);
  standing->said = idea_of(&standing->call, true);
  session->own[session->n_own++ % OWN_CAPACITY] = standing->said;
  (void)ideas_meet(&standing->ideas, &standing->said, &likeness);
}

// Silence is met by something short, unless the turn had its own task
static SentenceKind
silence_of(const Session* const session, const TurnRecord* const record)
{
  const TurnTask task = record->turn.task;
  if (session->options.script && !session->options.script->answers) {
    return SENTENCE_SILENCE_PASSING;
  }
  return task == TASK_GIVE_BACK ? SENTENCE_ECHO_SILENT
         : task != TASK_FREE    ? SENTENCE_SILENCE_PASSING
                                : SENTENCE_SILENCE_WAITING;
}

static bool
is_last_of_player(const Session* const session, const Turn* const turn)
{
  const TurnPlan plan = session_turn_plan(&session->options);
  Turn           next = turn_at(plan, turn->index + 1);
  while (next.start < session->end && !next.by_player) {
    next = turn_at(plan, next.index + 1);
  }
  return next.start >= session->end;
}

// Whether what was written is to be heard again; nobody is promised it else
static bool
comes_again(const Session* const session, const Turn* const turn)
{
  return !is_last_of_player(session, turn) &&
         script_comes_again(session->options.script, turn);
}

void
player_turn_remark(Session* const session, TurnRecord* const record)
{
  const Sentences* const sentences    = session_sentences(&session->options);
  const bool             was_answered = session->history.n_answers > 0;
  const Outcome* const   outcome      = &record->outcome;
  const RemarkView       view         = {
                  .chart   = session->options.chart,
                  .phrase  = &record->phrase,
                  .outcome = outcome->is_judged ? outcome : NULL,
                  .said    = session->answer.n_notes ? &session->answer.heard : NULL,
                  .goes_on = goes_on(session, &record->turn),
                  .silent_turns = session->standing.silent_turns,
                  .silence      = silence_of(session, record),
                  .is_early     = record->n_early > 0,
                  .is_last      = is_last_of_player(session, &record->turn),
                  .is_end       = record->turn.end >= session->end,
                  .times_said   = session->standing.times_said,
                  .is_rhythm    = session->standing.is_rhythm,
                  .comes_back   = session->standing.comes_back,
                  .is_fewer     = session->standing.is_fewer,
  };
  const bool is_lesson = session->options.script && !was_answered;
  if (is_lesson &&
      (record->phrase.n_notes || comes_again(session, &record->turn))) {
    remark_echo(&session->remarks,
                sentences,
                &record->phrase,
                &session->answer.heard,
                record->remark);
  } else if (outcome->is_judged && outcome->goal != GOAL_NONE) {
    remark_goal(&session->remarks, sentences, &view, record->remark);
  } else {
    remark_turn(&session->remarks, sentences, &view, record->remark);
  }
}
