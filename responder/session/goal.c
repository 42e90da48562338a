#include "responder/session/goal.h"

#include "core/music/spelling.h"
#include "responder/session/facts.h"
#include "responder/session/fit.h"

#include <assert.h>
#include <stdlib.h>

/// When two phrases are heard as alike; common practice, no source.
static const float said_again = 0.75F; ///< As an idea is that comes again
static const float in_rhythm  = 0.5F;  ///< Played along with another
static const Tick  near_ticks = TICKS_PER_QUARTER / 4; ///< The same place
static const Tick  near_ahead = TICKS_PER_QUARTER / 2; ///< Of all together

enum { OCTAVE = 12 };

static unsigned
last_class(const Phrase* const phrase)
{
  return facts_last(phrase).note.pitch % OCTAVE;
}

// Note for note at its place, but that all of it may come in a little early or
// late
static bool
same_rhythm(const Idea* const a, const Idea* const b)
{
  const Tick ahead   = a->n_notes && b->n_notes ? a->ticks[0] - b->ticks[0] : 0;
  bool       is_same = a->n_notes == b->n_notes && llabs(ahead) <= near_ahead;
  for (unsigned i = 0; is_same && i < a->n_notes; ++i) {
    is_same = llabs(a->ticks[i] - b->ticks[i] - ahead) <= near_ticks;
  }
  return is_same;
}

static bool
same_notes(const Idea* const a, const Idea* const b)
{
  bool is_same = a->n_notes == b->n_notes;
  for (unsigned i = 0; is_same && i < a->n_notes; ++i) {
    is_same = a->pitches[i] % OCTAVE == b->pitches[i] % OCTAVE;
  }
  return is_same;
}

EchoPart
goal_echo(const Phrase* const phrase, const Phrase* const cell)
{
  const Idea mine   = idea_of(phrase, true);
  const Idea theirs = idea_of(cell, false);
  if (!mine.n_notes || !same_rhythm(&mine, &theirs)) {
    return ECHO_NOTHING;
  }
  return same_notes(&mine, &theirs)               ? ECHO_WHOLE
         : last_class(phrase) == last_class(cell) ? ECHO_LANDING
                                                  : ECHO_RHYTHM;
}

static bool
is_home(const Phrase* const phrase, const Chart* const chart)
{
  return facts_last(phrase).role == ROLE_ROOT ||
         (facts_last(phrase).role == ROLE_CHORD_TONE &&
          last_class(phrase) == spelling_pitch_class(chart->key.tonic));
}

static bool
has_landed(const Phrase* const phrase)
{
  return facts_last(phrase).role <= ROLE_CHORD_TONE;
}

static Likeness
likeness_to(const Phrase* const phrase, const Idea* const other)
{
  const Idea mine = idea_of(phrase, true);
  return idea_likeness(&mine, other);
}

static bool
goes_along(const Phrase* const phrase, const Phrase* const said)
{
  const Idea theirs = said ? idea_of(said, false) : (Idea){.n_notes = 0};
  return likeness_to(phrase, &theirs).rhythm >= in_rhythm;
}

static bool
leaves(const Phrase* const phrase, const Idea* const line)
{
  return !line->n_notes || likeness_to(phrase, line).whole < said_again;
}

static bool
gives_back(const Phrase* const phrase, const GoalView* view, EchoPart part)
{
  return view->said && goal_echo(phrase, view->said) >= part;
}

bool
goal_is_met(const Goal            goal,
            const Phrase* const   phrase,
            const GoalView* const view)
{
  assert(phrase->n_notes > 0);
  switch (goal) {
    case GOAL_ASK:
      return facts_last(phrase).role != ROLE_OUTSIDE &&
             !is_home(phrase, view->chart);
    case GOAL_CLOSE:
      return is_home(phrase, view->chart);
    case GOAL_RHYTHM:
      return gives_back(phrase, view, ECHO_RHYTHM);
    case GOAL_LANDING:
      return gives_back(phrase, view, ECHO_LANDING);
    case GOAL_WHOLE:
      return gives_back(phrase, view, ECHO_WHOLE);
    case GOAL_FEW:
      return fit_most_notes(phrase, view->chart) <= view->n_notes;
    case GOAL_LINE:
      return has_landed(phrase);
    case GOAL_AGAIN:
      return likeness_to(phrase, view->line).whole >= said_again;
    case GOAL_LAST:
      return has_landed(phrase) && leaves(phrase, view->line);
    case GOAL_ALONG:
    case GOAL_ALONE:
      return goes_along(phrase, view->said);
    case GOAL_SING:
      return view->was_silent && has_landed(phrase);
    case GOAL_NONE:
      break;
  }
  return true;
}

const char*
goal_text(const Goal goal, const bool is_met)
{
  static const char* const texts[N_GOALS][2] = {
    [GOAL_NONE]    = {"", ""},
    [GOAL_ASK]     = {"It came home: no question.", "It asked."},
    [GOAL_CLOSE]   = {"It did not come home.", "It came home."},
    [GOAL_RHYTHM]  = {"The rhythm did not come back.", "The rhythm came back."},
    [GOAL_LANDING] = {"Rhythm and last note did not come back.",
                      "Rhythm and last note came back."},
    [GOAL_WHOLE]   = {"Not all of it came back.", "All of it came back."},
    [GOAL_FEW]     = {"It used more notes than were allowed.",
                      "It kept to its few notes."},
    [GOAL_LINE]    = {"The line did not land.", "The line landed."},
    [GOAL_AGAIN]   = {"It was another line.", "It was the line again."},
    [GOAL_LAST]    = {"It did not leave the line and land.",
                      "It left the line, and landed."},
    [GOAL_ALONG]   = {"It went apart from what was played.",
                      "It went along in rhythm."},
    [GOAL_ALONE]   = {"It was not in the rhythm that was played before.",
                      "It took over the rhythm."},
    [GOAL_SING]    = {"It came before it was sung, or did not land.",
                      "The bar was left to sing in, and it landed."},
  };
  assert((unsigned)goal < N_GOALS);
  return texts[goal][is_met];
}
