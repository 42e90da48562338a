/// @file responder/say/worth_parts.h What the parts of a candidate's worth
/// share.

#ifndef RESPONDER_SAY_WORTH_PARTS_H
#define RESPONDER_SAY_WORTH_PARTS_H

#include "responder/say/worth.h"

#include <stdbool.h>

static inline int
worth_step(const Candidate* const c, const unsigned i)
{
  return c->line[i] - c->line[i - 1];
}

/// Whether two notes running belong to one phrase.
static inline bool
worth_joins(const Candidate* const c, const unsigned i)
{
  return i > 0 && i < c->draft->n_notes && !c->draft->notes[i].begins;
}

static inline bool
worth_is_home(const Candidate* const c, const unsigned i)
{
  return draft_is_home(&c->draft->notes[i], c->line[i]);
}

static inline unsigned
worth_degree(const Candidate* const c, const unsigned i)
{
  return draft_degree(&c->draft->notes[i], c->line[i]);
}

static inline unsigned
worth_role(const Candidate* const c, const unsigned i)
{
  return c->draft->notes[i].chord.roles[c->line[i] % N_PITCH_CLASSES];
}

/// Whether a note is resolved: by step, within a beat, to a chord tone.
static inline bool
worth_is_led(const Candidate* const c, const unsigned i)
{
  if (!worth_joins(c, i + 1) || c->draft->notes[i].gap > c->frame->beat) {
    return false;
  }
  const int step = worth_step(c, i + 1);
  return step != 0 && step >= -2 && step <= 2 && worth_is_home(c, i + 1);
}

/// Whether a strong beat leans on the chord tone that follows, in an answer
/// that is to lean.
static inline bool
worth_is_appoggiatura(const Candidate* const c, const unsigned i)
{
  return c->intent->appoggiaturas &&
         c->draft->notes[i].place == PLACE_STRONG_BEAT &&
         !worth_is_home(c, i) && worth_is_led(c, i);
}

/// How it goes up and down: what bores, leaps, stands.
double
worth_of_line(const Candidate* candidate);

/// How far it goes, from its lowest note to its highest.
double
worth_of_width(const Candidate* candidate);

/// What players do that is known by ear.
double
worth_of_idioms(const Candidate* candidate);

/// Leaps that are left hanging, or too many.
double
worth_of_leaps(const Candidate* candidate);

/// Its rhythm.
double
worth_of_rhythm(const Candidate* candidate);

/// What it takes from the call.
double
worth_of_call(const Candidate* candidate);

/// What lines of chord tones live by: the player's rhythm and colour taken up,
/// something done to their cell, a sure end.
double
worth_of_plain(const Candidate* candidate);

#endif // RESPONDER_SAY_WORTH_PARTS_H
