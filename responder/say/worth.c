#include "responder/say/worth.h"

#include "responder/say/weights.h"
#include "responder/say/worth_parts.h"

#include <math.h>
#include <stdlib.h>

enum { BLUE_THIRD = 3 };

// The end

/// Whether it ends as blues always end: the blue third to the third, and home;
/// or from the third through the blue one down to the root.
static bool
is_worn(const Candidate* const c)
{
  const unsigned last  = c->draft->n_notes - 1;
  const bool     root  = worth_degree(c, last) == 0 && last > 1;
  const unsigned at    = root ? last - 1 : last;
  const unsigned home  = c->draft->notes[at].chord.third;
  const bool     blues = c->frame->is_blues && home == BLUE_THIRD + 1U;
  const unsigned blue  = root && worth_degree(c, at) == 2 ? at - 1 : at;
  const bool falls = root && blue > 0 && worth_degree(c, blue) == BLUE_THIRD &&
                     worth_step(c, blue) == -1;
  const bool rises =
    at > 0 && worth_degree(c, at) == home && worth_step(c, at) == 1;
  return blues && (falls || rises);
}

static double
end_worth(const Candidate* const c)
{
  const WorthWeights* const w    = &say_weights.worth;
  const Frame* const        f    = c->frame;
  const unsigned            last = c->draft->n_notes - 1;
  const DraftNote* const    note = &c->draft->notes[last];
  const Tick                past = note->tick - tick_floor(note->tick, f->half);
  const Tick                lead = f->beat - f->off;
  double                    worth = 0.0;
  worth -= past != 0 && past != f->half - lead && note->tick != c->intent->goal
             ? (double)w->weak_end
             : 0.0;
  worth -= note->tick > f->end - f->beat - lead ? (double)w->no_room : 0.0;
  if (last > 0) {
    const int step = worth_step(c, last);
    worth -= abs(step) > 4 ? (double)w->leap_into_end : 0.0;
    worth -=
      frame_steps_home(f) && abs(step) > 2 ? (double)w->no_step_home : 0.0;
    worth -= step == 0 ? (double)w->repeat_into_end : 0.0;
    worth -= note->tick - note[-1].tick > f->beat ? (double)w->unled_end : 0.0;
    worth -= is_worn(c) ? (double)w->worn_end : 0.0;
  }
  return worth;
}

// Chords

static double
chord_worth_of(const Candidate* const c, const unsigned i)
{
  const WorthWeights* const w    = &say_weights.worth;
  const DraftNote* const    note = &c->draft->notes[i];
  const double              bold = c->frame->freedom >= 1.0 ? 0.5 : 1.0;
  const bool                home = worth_is_home(c, i);
  const unsigned            role = worth_role(c, i);
  const unsigned            d    = worth_degree(c, i);
  const bool                next = worth_joins(c, i + 1);
  const int                 on   = next ? worth_step(c, i + 1) : 0;
  const bool                led  = worth_is_led(c, i);
  const bool blue = c->frame->is_blues && note->chord.is_dominant;
  if (home) {
    return 0.0;
  }
  double worth = 0.0;
  if (note->place == PLACE_STRONG_BEAT) {
    const float blame = role == ROLE_SCALE_TONE
                          ? (led ? w->strong_led : w->strong_clash)
                          : (led ? w->strong_outside_led : w->strong_outside);
    worth -= bold * (double)blame;
  } else if (draft_is_on_beat(note) && role == ROLE_OUTSIDE &&
             !(blue && d == BLUE_THIRD)) {
    worth -= (double)w->outside_on_beat;
  }
  const bool colour = degree_is_colour(d);
  worth -= (note->gap >= c->frame->beat * 3 / 4 || note->ends) && !colour
             ? (double)w->long_clash
             : 0.0;
  worth -= note->ends ? (double)w->phrase_end : 0.0;
  worth -= next && abs(on) > 2 && !(blue && abs(on) == 3)
             ? (double)w->left_by_leap
             : 0.0;
  worth -= next && role == ROLE_OUTSIDE && abs(on) == 2
             ? (double)w->outside_by_tone
             : 0.0;
  return role == ROLE_SCALE_TONE && c->frame->freedom >= 1.0
           ? (double)w->free_blame * worth
           : worth;
}

/// Where the chord changes: the first note of the new one, or what it leans on.
static double
change_worth(const Candidate* const c, const unsigned i)
{
  const WorthWeights* const w     = &say_weights.worth;
  const DraftNote* const    note  = &c->draft->notes[i];
  const RoleRow* const      chord = &note->chord;
  const bool changes              = i > 0 && note[-1].chord.root != chord->root;
  if (!changes) {
    return 0.0;
  }
  const unsigned heard = worth_is_appoggiatura(c, i) ? i + 1 : i;
  const unsigned d     = worth_degree(c, heard);
  const bool     guide = d == chord->third || d == chord->seventh;
  const bool     step  = worth_joins(c, i) && abs(worth_step(c, i)) <= 2;
  return guide
           ? (double)w->change_heard + (step ? (double)w->change_by_step : 0.0)
         : !worth_is_home(c, heard) ? -(double)w->change_missed
                                    : 0.0;
}

/// Runs of root, third and fifth alone sound like a bugle; the seventh is what
/// makes these chords.
static double
colour_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  unsigned                  run   = 0;
  bool                      any   = false;
  bool                      may   = false;
  double                    worth = 0.0;
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    const RoleRow* const chord = &c->draft->notes[i].chord;
    const unsigned       d     = worth_degree(c, i);
    const bool plain = d == 0 || d == chord->third || d == chord->fifth;
    run              = plain ? run + 1 : 0;
    any              = any || d == chord->seventh;
    may = may || chord->bears[(chord->root + chord->seventh) % N_PITCH_CLASSES];
    worth -= run >= 4 ? (double)w->bugle : 0.0;
  }
  return !may ? 0.0 : worth - (any ? 0.0 : (double)w->no_seventh);
}

double
worth_of(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  double                    worth = end_worth(c);
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    worth += chord_worth_of(c, i) + change_worth(c, i);
  }
  worth += worth_of_line(c);
  const bool plain = frame_is_plain(c->frame);
  worth += plain ? worth_of_leaps(c) : worth_of_idioms(c);
  if (!c->draft->is_whole) {
    const double off = fabs(c->draft->n_notes - c->intent->notes);
    worth += worth_of_rhythm(c) + worth_of_call(c) + colour_worth(c) +
             worth_of_width(c);
    const float each = c->intent->runs_on ? w->count_run : w->count_off;
    worth -= (double)each * fmax(off - 1.0, 0.0);
    worth += draft_is_planted_twice(c->draft) ? (double)w->said_twice : 0.0;
    worth += plain ? worth_of_plain(c) : 0.0;
  }
  return worth;
}
