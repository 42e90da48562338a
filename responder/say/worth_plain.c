#include "core/music/interval.h"
#include "responder/say/weights.h"
#include "responder/say/worth_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BLUE_THIRD = 3 };

/// A leap beyond a fifth turns back by step, a tritone goes on by step, else
/// its note hangs in the air; and one leap is enough.
double
worth_of_leaps(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  double                    worth = 0.0;
  unsigned                  leaps = 0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    const int  d    = worth_step(c, i);
    const int  on   = worth_joins(c, i + 1) ? worth_step(c, i + 1) : 0;
    const bool step = on != 0 && abs(on) <= 2;
    const bool back = step && interval_way(on) == -interval_way(d);
    worth -= (worth_joins(c, i) && abs(d) > 7 && !back) || abs(d) > 12
               ? (double)w->leap_left
               : 0.0;
    worth -=
      worth_joins(c, i) && abs(d) == 6 && !step ? (double)w->tritone_left : 0.0;
    leaps += worth_joins(c, i) && abs(d) > 5 ? 1 : 0;
  }
  return worth - (double)w->leapy_plain * (leaps > 1 ? leaps - 1.0 : 0.0);
}

/// Return how much happens in a rhythm: the share of onsets off the beat, and
/// of steps unlike the one before.
static double
life_of(const Frame* const frame, const Tick* const ticks, const unsigned n)
{
  unsigned lively = 0;
  for (unsigned i = 0; i < n; ++i) {
    const Tick step   = i > 0 ? ticks[i] - ticks[i - 1] : 0;
    const Tick before = i > 1 ? ticks[i - 1] - ticks[i - 2] : step;
    lively += frame_in_beat(frame, ticks[i]) != 0 ? 1 : 0;
    lively += step != before ? 1 : 0;
  }
  return n > 0 ? (double)lively / n : 0.0;
}

/// Whether the cell comes again note for note.
static bool
is_same_again(const Candidate* const c)
{
  const unsigned first = draft_plant_begin(c->draft, 0);
  unsigned       i     = draft_plant_begin(c->draft, 1);
  bool           same  = i < c->draft->n_notes;
  for (unsigned k = 0; i < c->draft->n_notes && c->draft->notes[i].plant == 1;
       ++k) {
    same = same && c->line[first + k] == c->line[i];
    ++i;
  }
  return same;
}

/// Whether it ends on three notes or more that it had before.
static bool
ends_as_before(const Candidate* const c)
{
  const unsigned n = c->draft->n_notes;
  for (unsigned i = 0; i + 6 <= n; ++i) {
    if (memcmp(&c->line[i], &c->line[n - 3], 3 * sizeof(*c->line)) == 0) {
      return true;
    }
  }
  return false;
}

/// What is gained by steps, and lost by one pitch twice, by leaps that no step
/// takes back, by tritones, be they between phrases, by skips to and fro and by
/// phrases that lie far apart.
static double
steps_and_skips_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  double                    worth = 0.0;
  unsigned                  near  = 0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    const int d = worth_step(c, i);
    near += d != 0 && abs(d) <= 2 ? 1 : 0;
    const bool joins = worth_joins(c, i);
    const int  on    = worth_joins(c, i + 1) ? worth_step(c, i + 1) : 0;
    const bool back  = interval_way(on) == -interval_way(d);
    const bool steps = back && abs(on) <= 2;
    worth -= joins && d == 0 && c->draft->notes[i].plant == NO_PLANT
               ? (double)w->plain_repeat
               : 0.0;
    worth -= !joins && abs(d) > 5 ? (double)w->far_apart : 0.0;
    worth -= joins && abs(d) > 5 && !steps ? (double)w->plain_leap : 0.0;
    worth -= joins && abs(d) > 7 && c->draft->notes[i].plant == NO_PLANT
               ? (double)w->plain_sixth
               : 0.0;
    worth -= abs(d) == 6 ? (double)w->plain_tritone : 0.0;
    // Major has turned minor: the blue third goes up to the third
    worth -= d == -1 && worth_degree(c, i) == BLUE_THIRD
               ? (double)w->third_undone
               : 0.0;
    worth -=
      joins && back && abs(d) > 2 && abs(on) > 2 ? (double)w->skips_back : 0.0;
  }
  return worth + (double)w->stepwise * near / c->draft->n_notes;
}

/// Whether notes come after the first bar, each a bar after another one.
static bool
are_bars_alike(const Candidate* const c)
{
  const Frame* const f       = c->frame;
  unsigned           n_later = 0;
  unsigned           n_alike = 0;
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    const Tick tick = c->draft->notes[i].tick;
    if (tick >= f->start + f->bar) {
      ++n_later;
      n_alike += draft_has_onset(c->draft, tick - f->bar) ? 1 : 0;
    }
  }
  return n_later > 0 && n_alike == n_later;
}

/// What is lost by a rhythm of one length, or of bars that are all alike.
static double
even_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  unsigned                  run   = 1;
  double                    worth = 0.0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    const DraftNote* const note = &c->draft->notes[i];
    run = i > 1 && note[-1].gap == note[-2].gap && note[-1].gap >= c->frame->off
            ? run + 1
            : 2;
    worth -= run > w->even_free ? (double)w->even_run : 0.0;
  }
  return worth - (are_bars_alike(c) ? (double)w->all_bars : 0.0);
}

/// Return how often a line comes back to the note before the last, but for
/// cells.
static unsigned
count_circles(const Candidate* const c)
{
  unsigned n = 0;
  for (unsigned i = 2; i < c->draft->n_notes; ++i) {
    const bool planted =
      c->draft->notes[i].plant != NO_PLANT &&
      c->draft->notes[i].plant == c->draft->notes[i - 2].plant;
    n += c->line[i] == c->line[i - 2] && !planted ? 1 : 0;
  }
  return n;
}

double
worth_of_plain(const Candidate* const c)
{
  const WorthWeights* const w                     = &say_weights.worth;
  const Source* const       call                  = c->call->source;
  const unsigned            n                     = c->draft->n_notes;
  Tick                      ticks[DRAFT_CAPACITY] = {0};
  bool                      blue                  = false;
  unsigned                  known                 = 0;
  for (unsigned i = 0; i < n; ++i) {
    ticks[i] = c->draft->notes[i].tick;
    blue     = blue || (c->call->blues >> c->line[i] % N_PITCH_CLASSES & 1U);
    known += c->call->classes >> c->line[i] % N_PITCH_CLASSES & 1U;
  }
  const double asked = fmax(life_of(c->frame, call->ticks, call->n_notes),
                            c->frame->rhythm->eighths ? w->life_least : 0.0);
  const double lacks = c->frame->rhythm->off_beats
                         ? 0.0
                         : fmax(asked - life_of(c->frame, ticks, n), 0.0);
  const int    into  = n > 1 ? worth_step(c, n - 1) : 0;
  const int    last  = abs(into);
  const bool   full  = c->frame->request->treatment == TREAT_ANSWER;
  return steps_and_skips_worth(c) + even_worth(c) -
         (full ? (double)w->hardly * fmax(w->sentence - n, 0.0) : 0.0) -
         (double)w->circles * count_circles(c) +
         (double)w->known * known / fmax(n, 1.0) +
         (into < 0 ? (double)w->falls_home : 0.0) -
         (is_same_again(c) ? (double)w->same_again : 0.0) -
         (ends_as_before(c) ? (double)w->same_to_the_end : 0.0) -
         (double)w->lifeless * lacks + (blue ? (double)w->blue_taken : 0.0) +
         (last == 1 || last == 2   ? (double)w->ends_by_step
          : last == 3 || last == 4 ? (double)w->ends_by_third
                                   : 0.0);
}
