#include "responder/hear/ideas.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>

/// A phrase at least this like a remembered one is that idea coming back.
static const float SAME_IDEA = 0.75F;

/// How onsets and intervals are compared.
static const struct {
  Tick  near_ticks;  ///< Onsets up to this far apart are partly the same
  float near_credit; ///< ... and how much
  float near_pitch;  ///< For intervals a semitone apart
  float same_way;    ///< For intervals in the same direction
  float other_way;   ///< For any other two
  float gap;         ///< For an interval that the other one lacks
} COMPARE = {240, 0.4F, 0.7F, 0.1F, -0.5F, -0.5F};

Idea
idea_of(const Phrase* const phrase, const bool by_player)
{
  Idea idea = {.by_player = by_player};
  for (unsigned i = 0; i < phrase->n_notes && idea.n_notes < IDEA_NOTE_CAPACITY;
       ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament) {
      idea.ticks[idea.n_notes]   = heard->grid_tick - phrase->start_tick;
      idea.lengths[idea.n_notes] = heard->grid_length;
      idea.pitches[idea.n_notes] = heard->note.pitch;
      ++idea.n_notes;
    }
  }
  return idea;
}

/// Sum of the credit for a's onsets in b.
static float
match_onsets(const Idea* const a, const Idea* const b)
{
  float    sum = 0;
  unsigned j   = 0;
  for (unsigned i = 0; i < a->n_notes; ++i) {
    while (j + 1 < b->n_notes && b->ticks[j + 1] <= a->ticks[i]) {
      ++j;
    }
    Tick near = llabs(b->ticks[j] - a->ticks[i]);
    if (j + 1 < b->n_notes && b->ticks[j + 1] - a->ticks[i] < near) {
      near = b->ticks[j + 1] - a->ticks[i];
    }
    sum += near == 0 ? 1 : near <= COMPARE.near_ticks ? COMPARE.near_credit : 0;
  }
  return sum;
}

static float
rhythm_likeness(const Idea* const a, const Idea* const b)
{
  const float both    = match_onsets(a, b) + match_onsets(b, a);
  const float f       = both / (float)(a->n_notes + b->n_notes);
  const float chance  = 0.35F;
  const float likened = (f - chance) / (1 - chance);
  return likened > 0 ? likened : 0;
}

static float
compare_intervals(const int a, const int b)
{
  if (a == b) {
    return 1;
  }
  if (abs(a - b) == 1) {
    return COMPARE.near_pitch;
  }
  return (a > 0 && b > 0) || (a < 0 && b < 0) ? COMPARE.same_way
                                              : COMPARE.other_way;
}

static int
interval(const Idea* const idea, const unsigned i)
{
  return idea->pitches[i + 1] - idea->pitches[i];
}

static float
pitch_likeness(const Idea* const a, const Idea* const b)
{
  const unsigned n_a = a->n_notes - 1;
  const unsigned n_b = b->n_notes - 1;
  if (n_a == 0 || n_b == 0) {
    return n_a == n_b ? 1 : 0;
  }
  float row[IDEA_NOTE_CAPACITY];
  for (unsigned j = 0; j <= n_b; ++j) {
    row[j] = (float)j * COMPARE.gap;
  }
  for (unsigned i = 0; i < n_a; ++i) {
    float corner = row[0];
    row[0]       = (float)(i + 1) * COMPARE.gap;
    for (unsigned j = 1; j <= n_b; ++j) {
      const float same =
        corner + compare_intervals(interval(a, i), interval(b, j - 1));
      corner = row[j];
      const float skipped =
        (row[j] > row[j - 1] ? row[j] : row[j - 1]) + COMPARE.gap;
      row[j] = same > skipped ? same : skipped;
    }
  }
  const float likened = 2 * row[n_b] / (float)(n_a + n_b);
  return likened > 0 ? likened : 0;
}

Likeness
idea_likeness(const Idea* const a, const Idea* const b)
{
  if (a->n_notes == 0 || b->n_notes == 0) {
    return (Likeness){0, 0, 0};
  }
  const float rhythm = rhythm_likeness(a, b);
  const float pitch  = pitch_likeness(a, b);
  return (Likeness){rhythm, pitch, rhythm > pitch ? rhythm : pitch};
}

/// Remember an idea as new; the oldest but the first makes room.
static unsigned
remember(Ideas* const ideas, const Idea* const idea)
{
  if (ideas->n_ideas == IDEA_CAPACITY) {
    for (unsigned i = 1; i + 1 < IDEA_CAPACITY; ++i) {
      ideas->ideas[i] = ideas->ideas[i + 1];
    }
    --ideas->n_ideas;
  }
  Idea* const kept = &ideas->ideas[ideas->n_ideas++];
  *kept            = *idea;
  kept->id         = ++ideas->n_seen;
  return kept->id;
}

unsigned
ideas_meet(Ideas* const ideas, const Idea* const idea, float* const likeness)
{
  *likeness = 0;
  if (idea->n_notes == 0) {
    return 0;
  }
  unsigned nearest = 0;
  for (unsigned i = 0; i < ideas->n_ideas; ++i) {
    const float whole = idea_likeness(&ideas->ideas[i], idea).whole;
    if (whole > *likeness) {
      *likeness = whole;
      nearest   = ideas->ideas[i].id;
    }
  }
  return *likeness >= SAME_IDEA ? nearest : remember(ideas, idea);
}

const Idea*
ideas_get(const Ideas* const ideas, const unsigned id)
{
  for (unsigned i = 0; i < ideas->n_ideas; ++i) {
    if (ideas->ideas[i].id == id) {
      return &ideas->ideas[i];
    }
  }
  return NULL;
}
