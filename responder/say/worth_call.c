#include "core/music/interval.h"
#include "core/music/pitch.h"
#include "responder/say/gaps.h"
#include "responder/say/weights.h"
#include "responder/say/worth_parts.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static_assert(SKETCH_CAPACITY <= (int)GAPS_NOTES, "a call's rhythm fits");

/// Runs of the quickest notes go one way; after crotchets they come suddenly.
static double
quick_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const Tick                third = c->frame->beat / 3;
  double                    worth = 0.0;
  for (unsigned i = 1; i + 1 < c->draft->n_notes; ++i) {
    const DraftNote* const note = &c->draft->notes[i];
    const bool             runs = note->gap <= third && worth_joins(c, i + 1);
    const bool             ran  = note[-1].gap <= third && worth_joins(c, i);
    const int              into = worth_step(c, i);
    const int              on   = worth_step(c, i + 1);
    const bool             planted = note->plant != NO_PLANT;
    worth -= runs && ran && !planted && interval_way(into) != interval_way(on)
               ? (double)w->quick_turns
               : 0.0;
    worth -= runs && !planted && i > 1 && note[-1].gap >= c->frame->beat &&
                 note[-2].gap >= c->frame->beat
               ? (double)w->sudden
               : 0.0;
  }
  return worth;
}

/// What bars have in common.
typedef struct {
  unsigned n;    ///< Onsets of two bars running, together
  unsigned same; ///< ... that stand at one place in both, in no planted cell
  bool     one;  ///< Whether there is one on the second's first beat
} BarPair;

static BarPair
bars_from(const Candidate* const c, const Tick from)
{
  const Tick bar  = c->frame->bar;
  BarPair    pair = {0};
  for (unsigned i = 0, k = 0; i < c->draft->n_notes; ++i) {
    const DraftNote* const note = &c->draft->notes[i];
    if (note->tick < from || note->tick >= from + 2 * bar) {
      continue;
    }
    ++pair.n;
    pair.one = pair.one || note->tick == from + bar;
    while (c->draft->notes[k].tick + bar < note->tick) {
      ++k;
    }
    pair.same += note->plant == NO_PLANT && c->draft->notes[k].tick >= from &&
                     c->draft->notes[k].tick + bar == note->tick
                   ? 1
                   : 0;
  }
  return pair;
}

/// Bars of a free line differ, and not each of them is begun.
static double
square_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const Frame* const        f     = c->frame;
  double                    worth = 0.0;
  unsigned                  ones  = 0;
  for (Tick from = f->start; from + 2 * f->bar <= f->end; from += f->bar) {
    const BarPair pair  = bars_from(c, from);
    const double  share = (double)pair.same / fmax(pair.n - pair.same, 1.0);
    worth -= (double)w->bars_alike * fmax(share - w->bars_free, 0.0);
    ones += pair.one ? 1 : 0;
  }
  return worth - (double)w->begun_bars * fmax(ones - 1.0, 0.0);
}

double
worth_of_rhythm(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const Frame* const        f     = c->frame;
  const unsigned            n     = c->draft->n_notes;
  unsigned                  held  = 0;
  unsigned                  lone  = 0;
  unsigned                  quick = 0;
  unsigned                  on    = 0;
  unsigned                  whole = 0;
  double                    worth = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    const DraftNote* const note = &c->draft->notes[i];
    const bool             off  = !draft_is_on_beat(note);
    const bool             sync = off && note->gap >= f->beat * 3 / 4;
    held += sync ? 1 : 0;
    lone = sync ? lone + 1 : 0;
    worth -= lone >= 4 ? (double)w->lone_off_beats : 0.0;
    quick = note->gap <= f->off ? quick + 1 : 0;
    worth -= quick == (frame_ms(f, f->beat) > w->slow_ms ? 12U : 16U)
               ? (double)w->breathless
               : 0.0;
    on += off ? 0 : 1;
    whole += note->gap == f->beat ? 1 : 0;
  }
  const double waits =
    (double)(c->draft->notes[0].tick - f->from) / (double)f->beat;
  const double late = by_rung(w->late, frame_is_plain(f));
  worth -= c->intent->manner == MANNER_SPARE
             ? 0.0
             : late * fmax(waits - w->late_free, 0.0);
  worth += quick_worth(c);
  worth += frame_is_free(f) ? square_worth(c) : 0.0;
  worth -= f->rhythm->off_beats && held == 0 ? (double)w->no_syncopation : 0.0;
  worth -=
    f->rhythm->eighths && on == n && n > 3 ? (double)w->all_on_beat : 0.0;
  worth -= n > 6 && whole + 1 >= n ? (double)w->plain_rhythm : 0.0;
  return worth;
}

/// Return how many notes of the answer stand where the call's do.
static unsigned
traced(const Candidate* const c)
{
  const Source* const call = c->call->source;
  unsigned            n    = 0;
  for (unsigned i = 0, k = 0; i < c->draft->n_notes; ++i) {
    const Tick at = c->draft->notes[i].tick - c->frame->start;
    while (k < call->n_notes && call->ticks[k] < at) {
      ++k;
    }
    n += k < call->n_notes && call->ticks[k] == at ? 1 : 0;
  }
  return n;
}

/// Return the most notes running that the call has, too, pitch for pitch.
static unsigned
parroted(const Candidate* const c)
{
  const Source* const call           = c->call->source;
  unsigned runs[SKETCH_CAPACITY + 1] = {0}; // Up to a note of the call
  unsigned most                      = 0;
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    for (unsigned k = call->n_notes; k > 0; --k) {
      runs[k] = c->line[i] == call->pitches[k - 1] ? runs[k - 1] + 1 : 0;
      most    = runs[k] > most ? runs[k] : most;
    }
  }
  return most;
}

/// Return the most notes running that go as some of the call do, in rhythm and
/// direction.
static unsigned
taken_up(const Candidate* const c)
{
  const Source* const call           = c->call->source;
  const DraftNote*    notes          = c->draft->notes;
  unsigned runs[SKETCH_CAPACITY + 1] = {0}; // Up to a step of the call
  unsigned most                      = 0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    const Tick gap = notes[i].tick - notes[i - 1].tick;
    const int  way = interval_way(worth_step(c, i));
    for (unsigned k = call->n_notes; k-- > 1;) {
      const bool same =
        gap == call->ticks[k] - call->ticks[k - 1] &&
        way == interval_way(call->pitches[k] - call->pitches[k - 1]);
      runs[k] = same ? runs[k - 1] + 1 : 0;
      most    = runs[k] > most ? runs[k] : most;
    }
  }
  return most + 1;
}

double
worth_alike(const Draft* const draft, const Prompt* const call)
{
  const unsigned n                     = draft->is_whole ? 0 : draft->n_notes;
  Tick           ticks[DRAFT_CAPACITY] = {0};
  for (unsigned i = 0; i < n; ++i) {
    ticks[i] = draft->notes[i].tick;
  }
  return gaps_likeness(ticks, n, call->source->ticks, call->source->n_notes);
}

/// Return how many more of the call's pitch classes the answer wants.
static unsigned
left_out(const Candidate* const c)
{
  unsigned said = 0;
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    said |= 1U << c->line[i] % N_PITCH_CLASSES;
  }
  const unsigned most  = say_weights.worth.taken_most;
  const unsigned call  = pitch_classes_count(c->call->classes);
  const unsigned taken = pitch_classes_count(c->call->classes & said);
  const unsigned want  = call < most ? call : most;
  return taken < want ? want - taken : 0;
}

double
worth_of_call(const Candidate* const c)
{
  const WorthWeights* const w    = &say_weights.worth;
  const Source* const       call = c->call->source;
  if (call->n_notes == 0) {
    return 0.0;
  }
  const unsigned same = traced(c);
  const double   share =
    (double)same / (c->draft->n_notes + call->n_notes - same);
  const int away  = abs(c->line[0] - c->call->last_pitch);
  bool      taken = false;
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    const unsigned pc = c->line[i] % N_PITCH_CLASSES;
    taken = taken || (c->call->classes >> pc & 1U && !worth_is_home(c, i));
  }
  const double missed = frame_goes_outside(c->frame) ? 0.0 : w->left_out;
  return -(double)w->traced * fmax(share - w->traced_free, 0.0) +
         (away <= w->begins_within ? (double)w->begins_near : 0.0) -
         (away > w->begins_beyond ? (double)w->begins_far : 0.0) -
         (double)w->parroted * fmax(parroted(c) - w->parroted_free, 0.0) +
         (taken ? (double)w->colour_taken : 0.0) - missed * left_out(c) -
         (double)w->alike * fmax(c->alike - w->alike_free, 0.0) +
         by_rung(w->kin, frame_is_plain(c->frame)) *
           fmin(fmax(taken_up(c) - (double)w->kin_beyond.least, 0.0),
                (double)(w->kin_beyond.most - w->kin_beyond.least));
}
