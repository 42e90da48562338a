#include "responder/hear/ideas.h"

#include "core/music/interval.h"
#include "core/music/pitch.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>

/// A phrase at least this like a remembered one is that idea coming back.
static const float SAME_IDEA = 0.6F;

/// How onsets are compared, after one phrase has been moved so that it best
/// fits the other.
static const struct {
  Tick  near;        ///< Ticks; onsets up to this far apart are partly the same
  float near_credit; ///< ... and how much
  float chance;      ///< How much of what chance explains is taken off
  float chance_most; ///< The most that dense rhythms agree by chance alone
  float beat_moved;  ///< Likeness left after a move by whole beats
  float half_moved;  ///< ... by half beats
  float moved;       ///< ... by anything else
} RHYTHM = {160, 0.4F, 0.85F, 0.9F, 0.85F, 0.75F, 0.5F};

/// How intervals are compared, when the two rows of them are aligned.
static const struct {
  float semitone;  ///< For intervals a semitone apart
  float whole;     ///< For intervals a whole tone apart
  float same_way;  ///< For others in the same direction
  float other_way; ///< For opposite directions, and a repeat beside a leap
  float gap;       ///< For an interval that the other phrase lacks
  float chance;    ///< What any two phrases have in common, taken off
} INTERVAL = {0.7F, 0.4F, 0, -0.8F, -0.6F, 0.15F};

/// A rhythm with this share of gaps unlike the one before is one's own; one
/// that goes evenly makes no idea by itself.
static const float OWN_RHYTHM = 0.2F;

/// When a stretch is heard as said again; common practice, no source.
enum {
  STRETCH_CELL  = 4, ///< Notes, all as they were, in a rhythm of their own
  STRETCH_LONG  = 6, ///< ... that go evenly, or on other notes
  STRETCH_STEPS = 2, ///< Semitones that an interval of those may be off
};

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

/// Sum of the credit for a's onsets in b, moved by `move`.
static float
match_onsets(const Idea* const a, const Idea* const b, const Tick move)
{
  float    sum = 0;
  unsigned j   = 0;
  for (unsigned i = 0; i < a->n_notes; ++i) {
    const Tick at = a->ticks[i] - move;
    while (j + 1 < b->n_notes && b->ticks[j + 1] <= at) {
      ++j;
    }
    Tick off = llabs(b->ticks[j] - at);
    if (j + 1 < b->n_notes && b->ticks[j + 1] - at < off) {
      off = b->ticks[j + 1] - at;
    }
    sum += off == 0 ? 1 : off <= RHYTHM.near ? RHYTHM.near_credit : 0;
  }
  return sum;
}

static unsigned
count_eighths(const Idea* const idea)
{
  unsigned n = 0;
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    n += idea->ticks[i] % TICKS_PER_EIGHTH == 0;
  }
  return n;
}

/// The share of onsets that agree by chance: those on eighths with other
/// eighths, those between with others there, where there is twice the room.
static float
chance_of(const Idea* const a, const Idea* const b)
{
  const Tick  end_a  = a->ticks[a->n_notes - 1];
  const Tick  end_b  = b->ticks[b->n_notes - 1];
  const Tick  first  = a->ticks[0] < b->ticks[0] ? a->ticks[0] : b->ticks[0];
  const Tick  last   = end_a > end_b ? end_a : end_b;
  const float room   = 1 + (float)(last - first) / TICKS_PER_EIGHTH;
  const float on_a   = (float)count_eighths(a);
  const float on_b   = (float)count_eighths(b);
  const float n_a    = (float)a->n_notes;
  const float n_b    = (float)b->n_notes;
  const float agree  = 2 * on_a * on_b + (n_a - on_a) * (n_b - on_b);
  const float chance = RHYTHM.chance * agree / (room * (n_a + n_b));
  return chance < RHYTHM.chance_most ? chance : RHYTHM.chance_most;
}

/// How alike rhythms are when b is moved by so many ticks.
static float
likeness_moved(const Idea* const a,
               const Idea* const b,
               const float       chance,
               const Tick        move)
{
  const float both = match_onsets(a, b, move) + match_onsets(b, a, -move);
  const float f    = both / (float)(a->n_notes + b->n_notes);
  const float left = move == 0                       ? 1
                     : move % TICKS_PER_QUARTER == 0 ? RHYTHM.beat_moved
                     : move % TICKS_PER_EIGHTH == 0  ? RHYTHM.half_moved
                                                     : RHYTHM.moved;
  return left * (f - chance) / (1 - chance);
}

/// The best of leaving b where it is and moving it to where a begins or ends.
static float
rhythm_likeness(const Idea* const a, const Idea* const b)
{
  const Tick moves[] = {
    0,
    a->ticks[0] - b->ticks[0],
    a->ticks[a->n_notes - 1] - b->ticks[b->n_notes - 1],
  };
  const float chance = chance_of(a, b);
  float       best   = 0;
  for (unsigned i = 0; i < sizeof(moves) / sizeof(*moves); ++i) {
    const float likeness = likeness_moved(a, b, chance, moves[i]);
    best                 = likeness > best ? likeness : best;
  }
  return best;
}

/// How much a rhythm is one's own, 0..1.
static float
ownness(const Idea* const idea)
{
  unsigned n_changes = 0;
  for (unsigned i = 2; i < idea->n_notes; ++i) {
    const Tick gap    = idea->ticks[i] - idea->ticks[i - 1];
    const Tick before = idea->ticks[i - 1] - idea->ticks[i - 2];
    n_changes += gap != before;
  }
  const float share =
    idea->n_notes > 2 ? (float)n_changes / (float)(idea->n_notes - 2) : 0;
  return share < OWN_RHYTHM ? share / OWN_RHYTHM : 1;
}

static float
compare_intervals(const int a, const int b)
{
  if (a * b < 0) {
    return INTERVAL.other_way;
  }
  switch (abs(a - b)) {
    case 0:
      return 1;
    case 1:
      return INTERVAL.semitone;
    case 2:
      return INTERVAL.whole;
    default:
      return a * b > 0 ? INTERVAL.same_way : INTERVAL.other_way;
  }
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
    row[j] = (float)j * INTERVAL.gap;
  }
  for (unsigned i = 0; i < n_a; ++i) {
    float corner = row[0];
    row[0]       = (float)(i + 1) * INTERVAL.gap;
    for (unsigned j = 1; j <= n_b; ++j) {
      const float same =
        corner + compare_intervals(interval(a, i), interval(b, j - 1));
      corner = row[j];
      const float skipped =
        (row[j] > row[j - 1] ? row[j] : row[j - 1]) + INTERVAL.gap;
      row[j] = same > skipped ? same : skipped;
    }
  }
  const float mean    = 2 * row[n_b] / (float)(n_a + n_b);
  const float likened = (mean - INTERVAL.chance) / (1 - INTERVAL.chance);
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
  const float own_a  = ownness(a);
  const float own_b  = ownness(b);
  const float own    = rhythm * (own_a < own_b ? own_a : own_b);
  return (Likeness){rhythm, pitch, own > pitch ? own : pitch};
}

/// What is the same from two notes on.
typedef struct {
  bool notes;
  bool shape;
  bool moves;      ///< There is more than one note
  bool own_rhythm; ///< That does not go evenly
} Stretch;

static void
compare_steps(Stretch* const same, const int mine, const int theirs)
{
  const bool same_way = interval_way(mine) == interval_way(theirs);
  same->notes         = same->notes && mine == theirs;
  same->shape = same->shape && same_way && abs(mine - theirs) <= STRETCH_STEPS;
  same->moves = same->moves || mine != 0;
}

/// Whether two gaps are heard as one: near in ticks, and as gaps of their
/// length, so that swung quavers are straight ones too, but no triplet a
/// quaver.
static bool
same_gap(const Tick a, const Tick b)
{
  const Tick off = llabs(a - b);
  return off <= RHYTHM.near && 2 * off <= (a < b ? a : b);
}

/// Whether what begins at one note is said again from another on.
static bool
is_stretch(const Idea* const a,
           const unsigned    from_a,
           const Idea* const b,
           const unsigned    from_b)
{
  const bool same_first =
    a->pitches[from_a] % OCTAVE == b->pitches[from_b] % OCTAVE;
  Stretch same = {.notes = same_first, .shape = true};
  for (unsigned n = 1; from_a + n < a->n_notes && from_b + n < b->n_notes;
       ++n) {
    const unsigned i      = from_a + n;
    const unsigned j      = from_b + n;
    const Tick     gap    = a->ticks[i] - a->ticks[i - 1];
    const Tick     first  = a->ticks[from_a + 1] - a->ticks[from_a];
    const Tick     theirs = b->ticks[j] - b->ticks[j - 1];
    compare_steps(&same, interval(a, i - 1), interval(b, j - 1));
    if (!same_gap(gap, theirs) || !same.shape) {
      return false;
    }
    same.own_rhythm = same.own_rhythm || llabs(gap - first) > RHYTHM.near;
    const unsigned least =
      same.notes && same.own_rhythm ? STRETCH_CELL : STRETCH_LONG;
    if (same.moves && (same.notes || same.own_rhythm) && n + 1 >= least) {
      return true;
    }
  }
  return false;
}

bool
idea_has_stretch(const Idea* const idea, const Idea* const other)
{
  for (unsigned i = 0; i < idea->n_notes; ++i) {
    for (unsigned j = 0; j < other->n_notes; ++j) {
      if (is_stretch(idea, i, other, j)) {
        return true;
      }
    }
  }
  return false;
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
  kept->n_met      = 1;
  return kept->id;
}

unsigned
ideas_meet(Ideas* const ideas, const Idea* const idea, float* const likeness)
{
  *likeness = 0;
  if (idea->n_notes == 0) {
    return 0;
  }
  Idea* nearest = NULL;
  for (unsigned i = 0; i < ideas->n_ideas; ++i) {
    const float whole = idea_likeness(&ideas->ideas[i], idea).whole;
    if (whole > *likeness) {
      *likeness = whole;
      nearest   = &ideas->ideas[i];
    }
  }
  ideas->last[1] = ideas->last[0];
  if (nearest && *likeness >= SAME_IDEA) {
    ++nearest->n_met;
    ideas->last[0] = nearest->id;
  } else {
    ideas->last[0] = remember(ideas, idea);
  }
  return ideas->last[0];
}

const Idea*
ideas_left(const Ideas* const ideas,
           const Idea* const  present,
           const float        alike)
{
  const Idea* best = NULL;
  for (unsigned i = 0; i < ideas->n_ideas; ++i) {
    const Idea* const idea    = &ideas->ideas[i];
    const bool        is_left = idea->id != ideas->last[0] &&
                         idea->id != ideas->last[1] &&
                         idea_likeness(present, idea).whole < alike;
    const bool is_wanted =
      best == NULL || idea->is_kept > best->is_kept ||
      (idea->is_kept == best->is_kept && idea->n_met > best->n_met);
    best = is_left && is_wanted ? idea : best;
  }
  return best;
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
