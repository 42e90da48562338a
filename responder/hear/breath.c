#include "responder/hear/breath.h"

#include <math.h>

enum { NEIGHBOURS = 8 }; // Rests on each side that one is compared with

/// How much a rest speaks for a breath: each weight times the logarithm of the
/// rest beside its unit. Logistic regression on half of 30 annotated solos in
/// turns of four bars, checked on the other half and turned round.
static const struct {
  float seconds;   ///< ... in seconds
  float beats;     ///< ... in quarters
  float gaps;      ///< ... in the turn's median time between onsets
  float others;    ///< ... in the largest other rest nearby
  float threshold; ///< A breath is one whose sum is above
} WEIGHT = {1.5F, 0.95F, 1.4F, 0.75F, -0.8F};

/// Rests are no shorter than this, in seconds, as far as they are weighed.
static const float LEAST_S       = 0.08F;
static const float LEAST_OTHER_S = 0.05F;

/// Rests before the notes of a turn, in seconds, and their median gap.
typedef struct {
  unsigned n;
  float    rests[PHRASE_CAPACITY];
  float    median_gap;
} Breaths;

static float
median_of(const float* const values, const unsigned n)
{
  float    sorted[PHRASE_CAPACITY];
  unsigned filled = 0;
  for (; filled < n; ++filled) {
    unsigned at = filled;
    for (; at > 0 && sorted[at - 1] > values[filled]; --at) {
      sorted[at] = sorted[at - 1];
    }
    sorted[at] = values[filled];
  }
  return n > 0 ? sorted[n / 2] : 0;
}

/// List the silence before every note but the first.
static void
list_rests(Breaths* const      breaths,
           const Phrase* const phrase,
           const double        ms_per_tick)
{
  float gaps[PHRASE_CAPACITY];
  breaths->n = phrase->n_notes;
  for (unsigned i = 1; i < phrase->n_notes; ++i) {
    const Note* const before = &phrase->notes[i - 1].note;
    const Tick        gap    = phrase->notes[i].note.tick - before->tick;
    const Tick        rest   = gap - before->length;
    gaps[i - 1]              = (float)((double)gap * ms_per_tick / 1000);
    breaths->rests[i]        = (float)((double)rest * ms_per_tick / 1000);
  }
  breaths->median_gap =
    phrase->n_notes > 1 ? median_of(gaps, phrase->n_notes - 1) : 0;
}

static float
largest_other(const Breaths* const breaths, const unsigned at)
{
  const unsigned first   = at > NEIGHBOURS + 1 ? at - NEIGHBOURS : 1;
  float          largest = LEAST_OTHER_S;
  for (unsigned i = first; i <= at + NEIGHBOURS && i < breaths->n; ++i) {
    if (i != at && breaths->rests[i] > largest) {
      largest = breaths->rests[i];
    }
  }
  return largest;
}

static bool
is_breath(const Breaths* const breaths, const unsigned at, const float beat_s)
{
  const float rest = breaths->rests[at];
  if (rest <= LEAST_S) {
    return false;
  }
  const float sum = WEIGHT.seconds * logf(rest) +
                    WEIGHT.beats * logf(rest / beat_s) +
                    WEIGHT.gaps * logf(rest / breaths->median_gap) +
                    WEIGHT.others * logf(rest / largest_other(breaths, at));
  return sum > WEIGHT.threshold;
}

void
breath_mark(Phrase* const phrase, const double ms_per_tick)
{
  Breaths breaths;
  list_rests(&breaths, phrase, ms_per_tick);
  const float beat_s = (float)(ms_per_tick * TICKS_PER_QUARTER / 1000);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    phrase->notes[i].begins_phrase = i == 0 || is_breath(&breaths, i, beat_s);
  }
}
