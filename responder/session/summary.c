#include "responder/session/summary.h"

#include "responder/session/facts.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

// From where on something worked, or is worth work; common practice, no source.
static const double often         = 0.6;
static const double full_space    = 0.12;
static const double uneven_ms     = 40.0;
static const double off_centre_ms = 50.0;

static void
count_notes(Summary* const summary, const Phrase* const phrase)
{
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament && note->role == ROLE_OUTSIDE) {
      ++summary->n_outside;
      summary->n_left += note->resolution == RESOLUTION_LEFT;
    }
  }
  const Landing* const landing = &phrase->landing;
  const bool hangs = landing->is_there && landing->role == ROLE_OUTSIDE;
  summary->n_outside += hangs;
  summary->n_left += hangs;
  summary->n_notes += phrase->n_notes;
}

void
summary_add(Summary* const summary, const Phrase* const phrase)
{
  ++summary->n_turns;
  summary->ends_silent = phrase->n_notes == 0;
  if (!phrase->n_notes) {
    ++summary->n_silent;
    return;
  }

  const Measures* const measures = &phrase->measures;
  const bool            landed   = facts_has_landed(phrase);
  summary->n_landed += landed;
  summary->n_at_home += landed && facts_last(phrase).role == ROLE_ROOT;
  summary->space += (double)measures->space;
  summary->spread_ms += (double)measures->spread_ms;
  summary->offset_ms += fabs((double)measures->offset_ms);
  summary->complexity += (double)measures->complexity;
  count_notes(summary, phrase);
}

void
summary_judge(Summary* const summary, const Outcome* const outcome)
{
  if (outcome->is_judged && outcome->goal != GOAL_NONE) {
    ++summary->n_goals[outcome->goal];
    summary->n_met[outcome->goal] += outcome->miss == MISS_NOTHING;
  }
}

// One row of what may be said: whether it holds, and what
typedef struct {
  bool         holds;
  SentenceKind kind;
} Finding;

// Each session has another wording than the one before; where it is not known
// which it is, by how much was played, so that it is not always the first
static void
say(const Summary* const summary,
    const SentenceKind   kind,
    char                 text[SUMMARY_TEXT_CAPACITY])
{
  const Sentences* const sentences =
    summary->sentences ? summary->sentences : sentences_plain();
  const unsigned turn =
    summary->practised ? summary->practised : summary->n_notes;
  (void)snprintf(
    text, SUMMARY_TEXT_CAPACITY, "%s", sentence(sentences, kind, turn));
}

static void
take_findings(const Summary* const summary,
              const Finding* const findings,
              const unsigned       n_findings,
              char (*texts)[SUMMARY_TEXT_CAPACITY],
              const unsigned n_texts)
{
  unsigned n = 0;
  for (unsigned i = 0; i < n_findings && n < n_texts; ++i) {
    if (findings[i].holds) {
      say(summary, findings[i].kind, texts[n++]);
    }
  }
}

// How often the goal of the way of playing was met
typedef enum {
  MET_NEVER,
  MET_ONCE,
  MET_OFTEN,
  MET_EACH_TIME, ///< And no turn was silent
} GoalMet;

// What is to be said of it, on the average of the turns that were played
typedef struct {
  double   landed;
  double   space;
  double   spread_ms;
  double   offset_ms;
  bool     plays;    ///< In half of the turns or more
  bool     is_led;   ///< All that was outside
  bool     is_own;   ///< The player chose where it landed
  bool     has_goal; ///< The way of playing has one
  GoalMet  met;
  unsigned way; ///< That has a goal, from 0
} Look;

// Each of the goals that there were often counts as met, too; of few turns that
// were played nothing tells
static GoalMet
goal_met(const Summary* const summary, const bool plays)
{
  bool is_each  = summary->n_silent == 0;
  bool is_often = plays;
  bool is_once  = false;
  for (unsigned i = 0; i < N_GOALS; ++i) {
    is_each  = is_each && summary->n_met[i] == summary->n_goals[i];
    is_often = is_often && summary->n_met[i] >= often * summary->n_goals[i];
    is_once  = is_once || summary->n_met[i] > 0;
  }
  return is_often && is_each ? MET_EACH_TIME
         : is_often          ? MET_OFTEN
         : is_once           ? MET_ONCE
                             : MET_NEVER;
}

static bool
had_goal(const Summary* const summary)
{
  bool had = false;
  for (unsigned i = 0; i < N_GOALS; ++i) {
    had = had || summary->n_goals[i] > 0;
  }
  return had;
}

static Look
look_at(const Summary* const summary, const unsigned played)
{
  const double n        = played;
  const bool   has_goal = summary->way != WAY_ANSWER && had_goal(summary);
  const bool   plays    = 2 * played >= summary->n_turns;
  return (Look){
    .landed    = summary->n_landed / n,
    .space     = summary->space / n,
    .spread_ms = summary->spread_ms / n,
    .offset_ms = summary->offset_ms / n,
    .plays     = plays,
    .is_led    = summary->n_outside > 0 && summary->n_left == 0,
    .is_own    = summary->way != WAY_ECHO && summary->way != WAY_HANDING_OVER,
    .has_goal  = has_goal,
    .met       = goal_met(summary, plays),
    .way       = has_goal ? summary->way - WAY_QUESTION : 0,
  };
}

// What a way of playing was about comes first
static SentenceKind
of_way(const SentenceKind first, const Look* const look)
{
  return (SentenceKind)(first + look->way);
}

static void
say_worked(const Summary* const summary,
           const Look* const    look,
           SummaryWords* const  words)
{
  const bool chose = look->is_own && look->plays;
  const bool roomy = summary->way != WAY_SING_FIRST || look->met >= MET_OFTEN;
  const bool homes = summary->way == WAY_QUESTION // Not where it was to ask
                       ? summary->n_met[GOAL_CLOSE] > 0
                       : summary->n_at_home > 0;
  const bool is_steady =
    look->plays && facts_is_steady(look->spread_ms, look->offset_ms) &&
    summary->n_notes > summary->n_turns - summary->n_silent;
  const Finding worked[] = {
    {look->has_goal && look->met == MET_EACH_TIME,
     of_way(SENTENCE_WAY_ALL_QUESTION, look)},
    {look->has_goal && look->met == MET_OFTEN,
     of_way(SENTENCE_WAY_WORKED_QUESTION, look)},
    {look->has_goal && look->met == MET_ONCE,
     of_way(SENTENCE_WAY_SOME_QUESTION, look)},
    {chose && summary->way != WAY_QUESTION && look->landed >= often,
     look->landed < 1.0 ? SENTENCE_WORKED_LANDING
                        : SENTENCE_WORKED_LANDING_ALL},
    {chose && roomy && facts_leaves_room(look->space), SENTENCE_WORKED_ROOM},
    {is_steady, SENTENCE_WORKED_TIME},
    {look->is_own && look->is_led, SENTENCE_WORKED_LED},
    {look->is_own && homes, SENTENCE_WORKED_HOME},
    {summary->n_silent == 0, SENTENCE_WORKED_TURNS},
    {look->plays && !summary->ends_silent, SENTENCE_WORKED_FORM},
  };
  take_findings(
    summary, worked, sizeof(worked) / sizeof(*worked), words->worked, 2);
  if (!words->worked[0][0]) {
    say(summary, SENTENCE_WORKED_BEGAN, words->worked[0]);
  }
}

static void
say_work_on(const Summary* const summary,
            const Look* const    look,
            SummaryWords* const  words)
{
  const Finding work_on[] = {
    {!look->plays, SENTENCE_WORK_ON_TURNS},
    {look->has_goal && look->met < MET_OFTEN,
     of_way(SENTENCE_WAY_MISSED_QUESTION, look)},
    {look->has_goal, of_way(SENTENCE_WAY_WORK_ON_QUESTION, look)},
    {look->landed < often, SENTENCE_WORK_ON_LANDING},
    {summary->n_left > 0, SENTENCE_WORK_ON_LEADING},
    {look->space < full_space, SENTENCE_WORK_ON_ROOM},
    {look->spread_ms > uneven_ms, SENTENCE_WORK_ON_TIME},
    {look->offset_ms > off_centre_ms, SENTENCE_WORK_ON_BAND},
    {true, SENTENCE_WORK_ON_IDEA},
  };
  take_findings(
    summary, work_on, sizeof(work_on) / sizeof(*work_on), &words->work_on, 1);
}

static void
say_next(const Summary* const summary,
         const Look* const    look,
         SummaryWords* const  words)
{
  const Finding next[] = {
    {!look->plays, SENTENCE_NEXT_ONE_NOTE},
    {look->has_goal && look->met < MET_OFTEN,
     of_way(SENTENCE_WAY_NEXT_QUESTION, look)},
    {look->is_own && look->landed < often, SENTENCE_NEXT_LANDING},
    {look->is_own && look->space < full_space, SENTENCE_NEXT_ROOM},
    {look->spread_ms > uneven_ms, SENTENCE_NEXT_SLOWER},
    {true, SENTENCE_NEXT_LIKED},
  };
  take_findings(
    summary, next, sizeof(next) / sizeof(*next), &words->next_time, 1);
}

SummaryWords
summary_words(const Summary* const summary)
{
  SummaryWords   words  = {{"", ""}, "", ""};
  const unsigned played = summary->n_turns - summary->n_silent;
  if (!played) {
    say(summary, SENTENCE_NEXT_ONE_NOTE, words.next_time);
    return words;
  }
  const Look look = look_at(summary, played);
  say_worked(summary, &look, &words);
  say_work_on(summary, &look, &words);
  say_next(summary, &look, &words);
  return words;
}
