#include "responder/session/outcome.h"

#include "core/music/pitch.h"
#include "responder/hear/ideas.h"
#include "responder/session/facts.h"

#include <stdio.h>
#include <stdlib.h>

// When something came off; common practice, no source, where none is named.
static const double least_space = 0.10; // Share of the turn

// Share of the notes left hanging, one in five: of 91 four-bar turns cut from
// solos 84 in 100 leave no more; one in eight is what half of them leave.
static const double left_allowed = 0.20;

static const double usual_spreads    = 2.0;   // As wide as the learner's usual
static const double strictest_ms     = 30.0;  // ... but nobody is held to less
static const double kindest_ms       = 60.0;  // Heard as out of time by anyone
static const float  related_likeness = 0.35F; // To what the partner said
static const int    near_semitones   = 4; // Takes up the partner's last note

static const HeardNote*
first_written(const Phrase* const phrase)
{
  unsigned first = 0;
  while (first + 1 < phrase->n_notes && phrase->notes[first].is_ornament) {
    ++first;
  }
  return &phrase->notes[first];
}

static bool
is_in_time(const Phrase* const phrase, const OutcomeView* const view)
{
  const unsigned written = phrase->n_notes - phrase->measures.n_ornaments;
  const double   wide    = usual_spreads * view->spread_ms;
  const double   limit   = wide < strictest_ms ? strictest_ms
                           : wide > kindest_ms ? kindest_ms
                                               : wide;
  return !view->is_lost &&
         (written < 2 || (double)phrase->measures.spread_ms <= limit);
}

// Notes outside are to be led home. Scale tones are not, on no rung: a judge
// that gets stricter further down would hold nobody who is eased.
static bool
is_led(const Phrase* const phrase)
{
  unsigned n_left    = 0;
  unsigned n_written = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament) {
      ++n_written;
      n_left +=
        note->role > ROLE_SCALE_TONE && note->resolution == RESOLUTION_LEFT;
    }
  }
  return n_left <= left_allowed * n_written;
}

// A note near by, or the very note in another octave
static bool
takes_up(const Phrase* const phrase, const Phrase* const said)
{
  const int from = phrase_last_written(said)->note.pitch;
  const int to   = first_written(phrase)->note.pitch;
  return abs(to - from) <= near_semitones || (to - from) % OCTAVE == 0;
}

static bool
is_connected(const Phrase* const phrase, const OutcomeView* const view)
{
  const Phrase* const said = view->said;
  if (!said || !said->n_notes || view->is_return || takes_up(phrase, said)) {
    return true;
  }
  const Idea mine   = idea_of(phrase, true);
  const Idea theirs = idea_of(said, false);
  return idea_likeness(&mine, &theirs).whole >= related_likeness;
}

Outcome
outcome_judge(const Phrase* const phrase, const OutcomeView* const view)
{
  if (!phrase->n_notes) {
    return (Outcome){.is_judged = false};
  }
  return (Outcome){
    .is_judged = true,
    .landed    = facts_has_landed(phrase),
    .in_time   = is_in_time(phrase, view),
    .is_led    = is_led(phrase),
    .has_space = (double)phrase->measures.space >= least_space,
    .connected = is_connected(phrase, view),
    .goal      = view->goal,
    .miss      = goal_miss(view->goal, phrase, &view->against),
  };
}

bool
outcome_succeeds(const Outcome* const outcome)
{
  if (outcome->goal != GOAL_NONE) {
    return outcome->is_judged && outcome->miss == MISS_NOTHING;
  }
  return outcome->is_judged && outcome->landed && outcome->in_time &&
         outcome->is_led && outcome->has_space && outcome->connected;
}

bool
outcome_tells_of_rung(const Outcome* const outcome)
{
  Outcome but_for_it   = *outcome;
  but_for_it.connected = true;
  return outcome->is_judged && outcome->goal == GOAL_NONE &&
         (outcome->connected || !outcome_succeeds(&but_for_it));
}

const char*
outcome_reason(const unsigned index)
{
  static const char* const reasons[N_OUTCOME_REASONS] = {
    "did not land",
    "was not in time",
    "left notes hanging",
    "left no space",
    "did not take up what was said",
  };
  return reasons[index];
}

const char*
outcome_text(const Outcome* const outcome, char text[OUTCOME_TEXT_CAPACITY])
{
  const bool came_off[N_OUTCOME_REASONS] = {
    outcome->landed,
    outcome->in_time,
    outcome->is_led,
    outcome->has_space,
    outcome->connected,
  };
  text[0] = '\0';
  if (!outcome->is_judged) {
    return text;
  }
  if (outcome->goal != GOAL_NONE) {
    (void)snprintf(text,
                   OUTCOME_TEXT_CAPACITY,
                   "%s",
                   goal_text(outcome->goal, outcome->miss));
    return text;
  }
  if (outcome_succeeds(outcome)) {
    (void)snprintf(
      text,
      OUTCOME_TEXT_CAPACITY,
      "It landed, in time, with space, and took up what was said.");
    return text;
  }
  size_t n = 0;
  for (unsigned i = 0; i < N_OUTCOME_REASONS; ++i) {
    if (!came_off[i]) {
      n += (size_t)snprintf(text + n,
                            OUTCOME_TEXT_CAPACITY - n,
                            "%s%s",
                            n ? ", " : "It ",
                            outcome_reason(i));
    }
  }
  (void)snprintf(text + n, OUTCOME_TEXT_CAPACITY - n, ".");
  return text;
}
