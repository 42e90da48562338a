#include "responder/hear/breath.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

enum {
  NEIGHBOURS  = 8, // Rests on each side that one is compared with
  GAPS_BEFORE = 3, // Gaps between onsets that one is compared with
  GAPS_AFTER  = 3,
  WIDEST      = 12, // Semitones; a wider leap speaks no louder
};

/// How much speaks for a breath between two notes: each weight times a
/// logarithm, but for the leap. Logistic regression on half of 30 annotated
/// solos in turns of four bars, checked on the other half; change of direction,
/// metrical place, stress and a cell that begins again were tried and told
/// nothing beside these.
static const struct {
  float seconds;   ///< Of the rest in seconds
  float beats;     ///< ... in quarters
  float gaps;      ///< ... in the turn's median time between onsets
  float others;    ///< ... in the largest other rest nearby
  float length;    ///< Of the note before, in the turn's median length
  float gap;       ///< Of the time between the onsets, in the median nearby
  float leap;      ///< Of the interval in octaves
  float threshold; ///< A breath is one whose sum is above
} WEIGHT = {1.25F, 1.06F, 1.18F, 0.69F, 0.29F, 0.6F, 1.53F, -0.7F};

/// A phrase of few notes speaks against the breath at its end: a quarter of
/// soloists' phrases have fewer than 8 notes, one in twenty fewer than 3 (6,743
/// of 298 solos). The same half of the solos chose the numbers.
static const struct {
  float notes;  ///< From so many on it speaks no more
  float weight; ///< Of the logarithm of the share of them that it has
} FEW = {6, 1.5F};

/// No other rest is shorter, as far as one is weighed beside it.
static const float LEAST_OTHER_S = 0.05F;

/// What lies between the notes of a turn, in seconds: before each of them.
typedef struct {
  unsigned n;
  float    rests[PHRASE_CAPACITY];
  float    gaps[PHRASE_CAPACITY];    ///< From the onset before
  float    lengths[PHRASE_CAPACITY]; ///< Of each note itself
  float    median_gap;
  float    median_length;
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

/// List what lies before every note but the first.
static void
list_rests(Breaths* const      breaths,
           const Phrase* const phrase,
           const double        ms_per_tick)
{
  const double s_per_tick = ms_per_tick / 1000;
  breaths->n              = phrase->n_notes;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Note* const note = &phrase->notes[i].note;
    breaths->lengths[i]    = (float)((double)note->length * s_per_tick);
    if (i > 0) {
      const Note* const before = &phrase->notes[i - 1].note;
      const Tick        gap    = note->tick - before->tick;
      breaths->gaps[i]         = (float)((double)gap * s_per_tick);
      breaths->rests[i] = (float)((double)(gap - before->length) * s_per_tick);
    }
  }
  breaths->median_length = median_of(breaths->lengths, breaths->n);
  breaths->median_gap =
    breaths->n > 1 ? median_of(breaths->gaps + 1, breaths->n - 1) : 0;
}

/// The median gap around one, itself left out; 0 if there are none.
static float
gap_around(const Breaths* const breaths, const unsigned at)
{
  float          around[GAPS_BEFORE + GAPS_AFTER];
  unsigned       n     = 0;
  const unsigned first = at > GAPS_BEFORE ? at - GAPS_BEFORE : 1;
  for (unsigned i = first; i <= at + GAPS_AFTER && i < breaths->n; ++i) {
    if (i != at) {
      around[n++] = breaths->gaps[i];
    }
  }
  return median_of(around, n);
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

static float
log_ratio(const float value, const float unit)
{
  return unit > 0 && value > 0 ? logf(value / unit) : 0;
}

/// How far the sum for a breath is above the threshold.
static float
weigh(const Breaths* const breaths,
      const unsigned       at,
      const int            interval,
      const float          beat_s)
{
  const float rest = breaths->rests[at];
  if (rest <= 0) {
    return 0;
  }
  const float leap = (float)(interval < WIDEST ? interval : WIDEST) / WIDEST;
  return WEIGHT.seconds * logf(rest) + WEIGHT.beats * logf(rest / beat_s) +
         WEIGHT.gaps * logf(rest / breaths->median_gap) +
         WEIGHT.others * logf(rest / largest_other(breaths, at)) +
         WEIGHT.length *
           log_ratio(breaths->lengths[at - 1], breaths->median_length) +
         WEIGHT.gap * log_ratio(breaths->gaps[at], gap_around(breaths, at)) +
         WEIGHT.leap * leap - WEIGHT.threshold;
}

/// What a phrase of so many notes takes off its end.
static float
price_few(const unsigned n)
{
  const float share = (float)n / FEW.notes;
  return share < 1 ? -FEW.weight * logf(share) : 0;
}

/// A note that may begin a phrase, and the best breaths up to it.
typedef struct {
  unsigned note;
  float    sum;
  unsigned before; ///< The beginning before it
} Beginning;

/// Find the best breaths up to a beginning, of those that were found before.
static void
extend(Beginning* const beginnings, const unsigned at, const float weight)
{
  Beginning* const beginning = &beginnings[at];
  beginning->sum             = -FLT_MAX;
  for (unsigned i = 0; i < at; ++i) {
    const unsigned n   = beginning->note - beginnings[i].note;
    const float    sum = beginnings[i].sum + weight - price_few(n);
    if (sum > beginning->sum) {
      beginning->sum    = sum;
      beginning->before = i;
    }
  }
}

void
breath_mark(Phrase* const phrase, const double ms_per_tick)
{
  if (phrase->n_notes == 0) {
    return;
  }
  Breaths breaths;
  list_rests(&breaths, phrase, ms_per_tick);
  const float beat_s = (float)(ms_per_tick * TICKS_PER_QUARTER / 1000);

  // The last phrase may go on after the turn: its length does not count
  Beginning beginnings[PHRASE_CAPACITY] = {{.note = 0}};
  unsigned  n                           = 1;
  unsigned  best                        = 0;
  for (unsigned i = 1; i < phrase->n_notes; ++i) {
    HeardNote* const heard = &phrase->notes[i];
    heard->begins_phrase   = false;
    const int   interval   = abs(heard->note.pitch - heard[-1].note.pitch);
    const float weight     = weigh(&breaths, i, interval, beat_s);
    if (weight > 0) {
      beginnings[n].note = i;
      extend(beginnings, n, weight);
      best = beginnings[n].sum > beginnings[best].sum ? n : best;
      ++n;
    }
  }
  phrase->notes[0].begins_phrase = true;
  for (; best > 0; best = beginnings[best].before) {
    phrase->notes[beginnings[best].note].begins_phrase = true;
  }
}
