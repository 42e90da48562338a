#include "responder/session/summary.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

// From where on something worked, or is worth work; common practice, no source.
static const double often         = 0.6;
static const double roomy_space   = 0.25;
static const double full_space    = 0.12;
static const double steady_ms     = 25.0;
static const double uneven_ms     = 40.0;
static const double off_centre_ms = 50.0;

static const HeardNote*
last_written(const Phrase* const phrase)
{
  unsigned last = phrase->n_notes - 1;
  while (last > 0 && phrase->notes[last].is_ornament) {
    --last;
  }
  return &phrase->notes[last];
}

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

  const Measures* const  measures = &phrase->measures;
  const HeardNote* const last     = last_written(phrase);
  summary->n_landed += last->role <= ROLE_CHORD_TONE;
  summary->n_at_home += last->role == ROLE_ROOT;
  summary->space += (double)measures->space;
  summary->spread_ms += (double)measures->spread_ms;
  summary->offset_ms += (double)measures->offset_ms;
  summary->complexity += (double)measures->complexity;
  count_notes(summary, phrase);
}

// One row of what may be said: whether it holds, and the words
typedef struct {
  bool        holds;
  const char* words;
} Finding;

static void
take_findings(const Finding* const findings,
              const unsigned       n_findings,
              char (*texts)[SUMMARY_TEXT_CAPACITY],
              const unsigned n_texts)
{
  unsigned n = 0;
  for (unsigned i = 0; i < n_findings && n < n_texts; ++i) {
    if (findings[i].holds) {
      (void)snprintf(
        texts[n++], SUMMARY_TEXT_CAPACITY, "%s", findings[i].words);
    }
  }
}

SummaryWords
summary_words(const Summary* const summary)
{
  SummaryWords   words  = {{"", ""}, "", ""};
  const unsigned played = summary->n_turns - summary->n_silent;
  if (!played) {
    (void)snprintf(words.next_time,
                   SUMMARY_TEXT_CAPACITY,
                   "Begin with one note, the root, anywhere in the bar.");
    return words;
  }

  const double n      = played;
  const double landed = summary->n_landed / n;
  const double space  = summary->space / n;
  const double spread = summary->spread_ms / n;
  const double offset = summary->offset_ms / n;
  const bool   is_led = summary->n_outside > 0 && summary->n_left == 0;

  const Finding worked[] = {
    {landed >= often, "Most of your phrases landed on a chord tone."},
    {space >= roomy_space, "You left room, and the phrases could be heard."},
    {spread <= steady_ms && summary->n_notes > played, "Your time was steady."},
    {is_led, "Every note from outside was led home."},
    {summary->n_at_home > 0, "You found the root to end on."},
    {summary->n_silent == 0, "You played in every turn of yours."},
    {true, "You kept going to the end of the form."},
  };
  take_findings(worked, sizeof(worked) / sizeof(*worked), words.worked, 2);

  const Finding work_on[] = {
    {landed < often, "Aim the last note of each phrase at a chord tone."},
    {summary->n_left > 0,
     "Lead notes from outside on by step to a chord tone."},
    {space < full_space, "Stop earlier: leave a rest at the end of each turn."},
    {spread > uneven_ms, "Play fewer notes and place each one on the beat."},
    {fabs(offset) > off_centre_ms, "Listen to the drums and sit with them."},
    {true, "Say one short idea twice before you leave it."},
  };
  take_findings(work_on, sizeof(work_on) / sizeof(*work_on), &words.work_on, 1);

  const Finding next_time[] = {
    {landed < often, "Next time begin with two notes: the root and the third."},
    {space < full_space, "Next time begin with a bar played, a bar of rest."},
    {spread > uneven_ms, "Next time begin a little slower."},
    {true, "Next time begin with the phrase you liked best today."},
  };
  take_findings(
    next_time, sizeof(next_time) / sizeof(*next_time), &words.next_time, 1);
  return words;
}
