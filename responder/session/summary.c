#include "responder/session/summary.h"

#include "responder/session/facts.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

// From where on something worked, or is worth work; common practice, no source.
static const double often         = 0.6;
static const double full_space    = 0.12;
static const double steady_ms     = 25.0;
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
  summary->n_notes += phrase->n_notes;
}

void
summary_add(Summary* const summary, const Phrase* const phrase)
{
  ++summary->n_turns;
  if (!phrase->n_notes) {
    ++summary->n_silent;
    return;
  }

  const Measures* const measures = &phrase->measures;
  const unsigned        role     = phrase->landing.is_there
                                     ? phrase->landing.role
                                     : phrase_last_written(phrase)->role;
  summary->n_landed += role <= ROLE_CHORD_TONE;
  summary->n_at_home += role == ROLE_ROOT;
  summary->space += (double)measures->space;
  summary->spread_ms += (double)measures->spread_ms;
  summary->offset_ms += (double)measures->offset_ms;
  summary->complexity += (double)measures->complexity;
  count_notes(summary, phrase);
}

void
summary_judge(Summary* const summary, const Outcome* const outcome)
{
  if (outcome->is_judged && outcome->goal != GOAL_NONE) {
    ++summary->n_goals;
    summary->n_met += outcome->miss == MISS_NOTHING;
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

SummaryWords
summary_words(const Summary* const summary)
{
  SummaryWords   words  = {{"", ""}, "", ""};
  const unsigned played = summary->n_turns - summary->n_silent;
  if (!played) {
    say(summary, SENTENCE_NEXT_ONE_NOTE, words.next_time);
    return words;
  }

  const bool   plays  = 2 * played >= summary->n_turns;
  const double n      = played;
  const double landed = summary->n_landed / n;
  const double space  = summary->space / n;
  const double spread = summary->spread_ms / n;
  const double offset = summary->offset_ms / n;
  const bool   is_led = summary->n_outside > 0 && summary->n_left == 0;

  // What a way of playing was about comes first
  const bool     has_goal = summary->way != WAY_ANSWER && summary->n_goals > 0;
  const bool     was_met  = summary->n_met >= often * summary->n_goals;
  const unsigned of_way   = has_goal ? summary->way - WAY_QUESTION : 0;
  const SentenceKind met =
    (SentenceKind)(SENTENCE_WAY_WORKED_QUESTION + of_way);
  const SentenceKind missed =
    (SentenceKind)(SENTENCE_WAY_NEXT_QUESTION + of_way);
  const SentenceKind to_work_on =
    (SentenceKind)(SENTENCE_WAY_WORK_ON_QUESTION + of_way);

  // Who plays what the partner plays does not choose where it lands
  const bool is_own =
    summary->way != WAY_ECHO && summary->way != WAY_HANDING_OVER;

  const Finding worked[] = {
    {has_goal && was_met, met},
    {is_own && plays && landed >= often, SENTENCE_WORKED_LANDING},
    {is_own && plays && facts_leaves_room(space), SENTENCE_WORKED_ROOM},
    {spread <= steady_ms && summary->n_notes > played, SENTENCE_WORKED_TIME},
    {is_own && is_led, SENTENCE_WORKED_LED},
    {is_own && summary->n_at_home > 0, SENTENCE_WORKED_HOME},
    {summary->n_silent == 0, SENTENCE_WORKED_TURNS},
    {true, SENTENCE_WORKED_FORM},
  };
  take_findings(
    summary, worked, sizeof(worked) / sizeof(*worked), words.worked, 2);

  const Finding work_on[] = {
    {!plays, SENTENCE_WORK_ON_TURNS},
    {has_goal, to_work_on},
    {landed < often, SENTENCE_WORK_ON_LANDING},
    {summary->n_left > 0, SENTENCE_WORK_ON_LEADING},
    {space < full_space, SENTENCE_WORK_ON_ROOM},
    {spread > uneven_ms, SENTENCE_WORK_ON_TIME},
    {fabs(offset) > off_centre_ms, SENTENCE_WORK_ON_BAND},
    {true, SENTENCE_WORK_ON_IDEA},
  };
  take_findings(
    summary, work_on, sizeof(work_on) / sizeof(*work_on), &words.work_on, 1);

  const Finding next_time[] = {
    {!plays, SENTENCE_NEXT_ONE_NOTE},
    {has_goal && !was_met, missed},
    {is_own && landed < often, SENTENCE_NEXT_LANDING},
    {is_own && space < full_space, SENTENCE_NEXT_ROOM},
    {spread > uneven_ms, SENTENCE_NEXT_SLOWER},
    {true, SENTENCE_NEXT_LIKED},
  };
  take_findings(summary,
                next_time,
                sizeof(next_time) / sizeof(*next_time),
                &words.next_time,
                1);
  return words;
}
