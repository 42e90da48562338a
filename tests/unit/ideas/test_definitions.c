// The developments beside what their names mean in any handbook of form, by
// interval arithmetic on the written notes: common practice, no source. What
// the chord asks for goes before the shape (musicianship, a "real" sequence is
// the exception, a "tonal" one the rule), so shapes are asked of most notes and
// directions of nearly all, rhythms of every note.

#include "responder/ideas/develop.h"

#include "fixture.h"

#include <criterion/criterion.h>
#include <stdlib.h>

enum { CASES = 40, COUNT = DEVELOP_MOST, CAPACITY = 64 };

/// Written notes without ornaments, ticks from the turn's beginning.
typedef struct {
  unsigned n;
  Tick     ticks[CAPACITY];
  Tick     ends[CAPACITY];
  int      pitches[CAPACITY];
} Line;

typedef struct {
  unsigned n;
  unsigned n_right;
} Tally;

static Fixture      fixture;
static DevelopWork  work;
static Developments found;

static Line
line_of(const Phrase* const phrase)
{
  Line line = {.n = 0};
  for (unsigned i = 0; i < phrase->n_notes && line.n < CAPACITY; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    const Tick             at   = note->grid_tick - phrase->start_tick;
    if (!note->is_ornament && at >= 0) {
      line.ticks[line.n]   = at;
      line.ends[line.n]    = at + note->grid_length;
      line.pitches[line.n] = note->note.pitch;
      ++line.n;
    }
  }
  return line;
}

/// Return the index of the note at a place, -1 if there is none.
static int
at(const Line* const line, const Tick tick)
{
  for (unsigned i = 0; i < line->n; ++i) {
    if (line->ticks[i] == tick) {
      return (int)i;
    }
  }
  return -1;
}

/// How many notes of one stand in the other at the same place.
static unsigned
common_places(const Line* const a, const Line* const b)
{
  unsigned n = 0;
  for (unsigned i = 0; i < a->n; ++i) {
    n += at(b, a->ticks[i]) >= 0;
  }
  return n;
}

static int
sign(const int value)
{
  return (value > 0) - (value < 0);
}

/// How many intervals between places that both have go the same way (`way` 1)
/// or the other way (-1), of how many that move in the call.
static Tally
directions(const Line* const call, const Line* const own, const int way)
{
  Tally tally = {0, 0};
  for (unsigned i = 1; i < call->n; ++i) {
    const int from = at(own, call->ticks[i - 1]);
    const int to   = at(own, call->ticks[i]);
    const int asks = call->pitches[i] - call->pitches[i - 1];
    if (from >= 0 && to == from + 1 && asks) {
      ++tally.n;
      tally.n_right +=
        sign(own->pitches[to] - own->pitches[from]) == way * sign(asks);
    }
  }
  return tally;
}

/// How many intervals between places that both have are as wide as in the call,
/// give or take a whole tone: the scale's steps differ, and the chord's more.
static Tally
sizes(const Line* const call, const Line* const own)
{
  Tally tally = {0, 0};
  for (unsigned i = 1; i < call->n; ++i) {
    const int from = at(own, call->ticks[i - 1]);
    const int to   = at(own, call->ticks[i]);
    if (from >= 0 && to == from + 1) {
      const int is   = abs(own->pitches[to] - own->pitches[from]);
      const int asks = abs(call->pitches[i] - call->pitches[i - 1]);
      ++tally.n;
      tally.n_right += abs(is - asks) <= 2;
    }
  }
  return tally;
}

static bool
mostly(const Tally tally, const double share)
{
  return tally.n == 0 || tally.n_right >= share * tally.n;
}

// One predicate a move: whether it is what it is called

/// The rhythm stays (but for what rests need), the pitches are new.
static bool
is_new_notes(const Line* const call, const Line* const own)
{
  unsigned n_same = 0;
  for (unsigned i = 0; i < own->n; ++i) {
    const int there = at(call, own->ticks[i]);
    n_same += there >= 0 && call->pitches[there] == own->pitches[i];
  }
  return common_places(own, call) == own->n && n_same < own->n;
}

/// As many notes within one, in the call's order as far as the chord lets them,
/// and some place is new.
static bool
is_new_rhythm(const Line* const call, const Line* const own)
{
  return common_places(own, call) < own->n || own->n < call->n;
}

/// The same rhythm from another step: every note is moved, and every interval
/// goes the way it went, about as far.
static bool
is_sequence(const Line* const call, const Line* const own)
{
  for (unsigned i = 0; i < own->n && i < call->n; ++i) {
    if (own->pitches[i] == call->pitches[i]) {
      return false;
    }
  }
  return own->n == call->n && (own->pitches[0] - call->pitches[0]) % 12 != 0 &&
         common_places(own, call) == own->n &&
         mostly(directions(call, own, 1), 1.0) && mostly(sizes(call, own), 0.8);
}

/// Inversion: the same rhythm, every interval the other way.
static bool
is_turned_over(const Line* const call, const Line* const own)
{
  return common_places(own, call) == own->n &&
         mostly(directions(call, own, -1), 0.8);
}

/// Reduction: places of the call only, and fewer of them.
static bool
is_thinned(const Line* const call, const Line* const own)
{
  return common_places(own, call) == own->n && own->n < call->n;
}

/// The call's places, and more between them.
static bool
is_filled(const Line* const call, const Line* const own)
{
  return own->n > common_places(own, call) &&
         2 * common_places(call, own) >= call->n;
}

/// Displacement: all of it later or all of it earlier, by beats or half beats;
/// what no longer fits is gone.
static bool
is_shifted(const Line* const call, const Line* const own)
{
  for (Tick by = -1920; by <= 1920; by += TICKS_PER_EIGHTH) {
    unsigned n = 0;
    for (unsigned i = 0; i < own->n; ++i) {
      n += at(call, own->ticks[i] - by) >= 0;
    }
    if (by && n == own->n) {
      return true;
    }
  }
  return false;
}

/// Whether the cell of `n` notes at `a` in one line stands at `b` in another.
static bool
is_same_cell(const Line* const own,
             const unsigned    a,
             const Line* const other,
             const unsigned    b,
             const unsigned    n)
{
  for (unsigned i = 1; i < n; ++i) {
    if (b + i >= other->n || own->ticks[a + i] - own->ticks[a] !=
                               other->ticks[b + i] - other->ticks[b]) {
      return false;
    }
  }
  return true;
}

/// A cell of two notes or more, cut out of the call, that is stated and then
/// stated again from another place.
static bool
is_fragment(const Line* const call, const Line* const own)
{
  for (unsigned n = 2; 2 * n <= own->n; ++n) {
    bool is_of_call = false;
    bool comes_back = false;
    for (unsigned c = 0; c < call->n; ++c) {
      is_of_call |= is_same_cell(own, 0, call, c, n);
    }
    for (unsigned c = n; c < own->n; ++c) {
      comes_back |= is_same_cell(own, 0, own, c, n);
    }
    if (is_of_call && comes_back) {
      return true;
    }
  }
  return false;
}

/// The opening is the call's own, the ending is not.
static bool
is_answered(const Line* const call, const Line* const own)
{
  const unsigned last  = own->n - 1;
  const int      there = at(call, own->ticks[last]);
  return own->ticks[0] == call->ticks[0] &&
         (there < 0 || call->pitches[there] != own->pitches[last] ||
          own->n != call->n || common_places(own, call) < own->n);
}

typedef bool (*Predicate)(const Line* call, const Line* own);

static const Predicate predicates[N_MOVES] = {
  [MOVE_NEW_NOTES]           = is_new_notes,
  [MOVE_NEW_RHYTHM]          = is_new_rhythm,
  [MOVE_SEQUENCE]            = is_sequence,
  [MOVE_QUESTION_AND_ANSWER] = is_answered,
  [MOVE_FRAGMENT]            = is_fragment,
  [MOVE_THIN_OUT]            = is_thinned,
  [MOVE_FILL_IN]             = is_filled,
  [MOVE_TURN_OVER]           = is_turned_over,
  [MOVE_SHIFT]               = is_shifted,
};

/// Developments turned over that would pass for a sequence.
static unsigned not_that;

static void
tally_call(Tally tallies[N_MOVES])
{
  const Line call = line_of(&fixture.call);
  for (unsigned i = 0; i < found.n; ++i) {
    const Answer* const answer = &found.ways[i].answer;
    const Line          own    = line_of(&answer->heard);
    not_that +=
      answer->move == MOVE_TURN_OVER && is_sequence(&call, &own) ? 1 : 0;
    if (predicates[answer->move]) {
      ++tallies[answer->move].n;
      tallies[answer->move].n_right += predicates[answer->move](&call, &own);
    }
  }
}

/// Calls that leave room, on a rung that does not make them plainer, so that a
/// move's rhythm is its own; random notes over random charts.
Test(definitions, each_is_what_it_is_called)
{
  static const unsigned styles[]         = {0, 1, 2};
  const Rung            rung             = {{6, 6, 6, 1}};
  Tally                 tallies[N_MOVES] = {{0, 0}};
  for (unsigned i = 0; i < CASES; ++i) {
    fixture_open(&fixture, i % N_FIXTURE_CHARTS, styles[i % 3], 2, rung, i);
    fixture.request.end -= fixture.request.start;
    fixture.request.start = 0;
    develop(&found, &work, &fixture.request, COUNT, i);
    tally_call(tallies);
  }
  for (unsigned m = 0; m < N_MOVES; ++m) {
    const Tally tally = tallies[m];
    if (predicates[m]) {
      // Few phrases can be moved whole over their chords
      const bool     moves = m == MOVE_SEQUENCE || m == MOVE_SHIFT;
      const unsigned least = moves ? CASES / 8 : CASES / 2;
      cr_expect_gt(tally.n, least, "%s: %u", move_name((Move)m), tally.n);
      cr_expect_geq(tally.n_right,
                    0.95 * tally.n,
                    "%s: %u of %u",
                    move_name((Move)m),
                    tally.n_right,
                    tally.n);
    }
  }
  // ... and they tell the moves apart
  cr_expect_lt(not_that, 0.1 * tallies[MOVE_TURN_OVER].n, "%u", not_that);
}
