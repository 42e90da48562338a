#include "responder/session/goal.h"

#include "core/music/chord.h"
#include "core/music/pitch.h"
#include "core/music/spelling.h"
#include "responder/session/facts.h"
#include "responder/session/fit.h"

#include <assert.h>
#include <stdlib.h>

/// When two phrases are heard as alike; common practice, no source.
static const float    said_again = 0.75F; ///< As an idea is that comes again
static const double   in_place   = 0.75;  ///< Of what is played along
static const double   near_it    = 0.5;   ///< ... where it is missed
static const double   most_of_it = 0.75;  ///< Of the places of a rhythm
static const double   some_of_it = 0.25;  ///< Of what it goes along with
static const unsigned line_least = 3;     ///< Notes of what can be said again
static const unsigned line_most  = 12;
// The same place, and how early or late all may be together: a sixteenth off is
// another place, and half a beat another beat
static const Tick near_ticks = TICKS_PER_QUARTER / 6;
static const Tick near_ahead = TICKS_PER_QUARTER / 4;

// What is told to have kept a place is no further off than this, but that a
// swung half beat may be heard as the last third
static const Tick kept_ticks = TICKS_PER_QUARTER / 10;
static const Tick half_beat  = TICKS_PER_QUARTER / 2;
static const Tick last_third = TICKS_PER_QUARTER * 2 / 3;

// Semitones
static const unsigned diminished_fifth = 6;
static const unsigned perfect_fifth    = 7;
static const unsigned least_seventh    = 10;

static unsigned
last_class(const Phrase* const phrase)
{
  return facts_last(phrase).note.pitch % OCTAVE;
}

// Note for note at its place, but that all of it may come in a little early or
// late
static bool
same_rhythm(const Idea* const a, const Idea* const b)
{
  const Tick ahead   = a->n_notes && b->n_notes ? a->ticks[0] - b->ticks[0] : 0;
  bool       is_same = a->n_notes == b->n_notes && llabs(ahead) <= near_ahead;
  for (unsigned i = 0; is_same && i < a->n_notes; ++i) {
    is_same = llabs(a->ticks[i] - b->ticks[i] - ahead) <= near_ticks;
  }
  return is_same;
}

static bool
same_notes(const Idea* const a, const Idea* const b)
{
  bool is_same = a->n_notes == b->n_notes;
  for (unsigned i = 0; is_same && i < a->n_notes; ++i) {
    is_same = a->pitches[i] % OCTAVE == b->pitches[i] % OCTAVE;
  }
  return is_same;
}

EchoPart
goal_echo(const Phrase* const phrase, const Phrase* const cell)
{
  const Idea mine   = idea_of(phrase, true);
  const Idea theirs = idea_of(cell, false);
  if (!mine.n_notes || !same_rhythm(&mine, &theirs)) {
    return ECHO_NOTHING;
  }
  return same_notes(&mine, &theirs)               ? ECHO_WHOLE
         : last_class(phrase) == last_class(cell) ? ECHO_LANDING
                                                  : ECHO_RHYTHM;
}

/// Return how far the last note is above the root of its chord.
static unsigned
above_root(const HeardNote* const last, const Chord* const chord)
{
  const unsigned root = spelling_pitch_class(chord->root);
  return (last->note.pitch + OCTAVE - root) % OCTAVE;
}

static bool
is_diminished(const Chord* const chord)
{
  const unsigned root = spelling_pitch_class(chord->root);
  return chord_has_core_tone(chord, root + diminished_fifth) &&
         !chord_has_core_tone(chord, root + perfect_fifth);
}

// A half close asks, and a diminished chord never rests
static bool
rests_on_root(const Chord* const chord, const unsigned tonic)
{
  const unsigned root = spelling_pitch_class(chord->root);
  return root == tonic ||
         (root != (tonic + perfect_fifth) % OCTAVE && !is_diminished(chord));
}

// Where the piece is at home no question is heard, be the chord another one,
// but where it is a seventh there, which wants to fall; nor on a root that
// rests
bool
goal_is_home(const Phrase* const phrase, const Chart* const chart)
{
  const HeardNote    last = facts_last(phrase);
  const Chord* const chord =
    chart_chord_at(chart, heard_note_chord_tick(&last, chart));
  const unsigned tonic    = spelling_pitch_class(chart->key.tonic);
  const bool     is_tonic = last_class(phrase) == tonic;
  if (chord_is_silence(chord)) {
    return last.role == ROLE_ROOT;
  }
  return last.role == ROLE_ROOT ? rests_on_root(chord, tonic)
                                : last.role == ROLE_CHORD_TONE && is_tonic &&
                                    above_root(&last, chord) < least_seventh;
}

static Likeness
likeness_to(const Phrase* const phrase, const Idea* const other)
{
  const Idea mine = idea_of(phrase, true);
  return idea_likeness(&mine, other);
}

static bool
is_near(const Tick a, const Tick b)
{
  return llabs(a - b) <= near_ticks;
}

static bool
is_swung(const Tick half, const Tick third)
{
  const Tick beat = tick_floor(half, TICKS_PER_QUARTER);
  return half - beat == half_beat && third - beat == last_third;
}

static bool
is_kept(const Tick a, const Tick b)
{
  return llabs(a - b) <= kept_ticks || is_swung(a, b) || is_swung(b, a);
}

static bool
has_place(const Phrase* const phrase,
          const Tick          place,
          bool (*const is_there)(Tick, Tick))
{
  bool has = false;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Tick at = phrase->notes[i].grid_tick - phrase->start_tick;
    has = has || (!phrase->notes[i].is_ornament && is_there(at, place));
  }
  return has;
}

/// Return the share of a phrase's notes that stand where another has some, each
/// in its own turn.
static double
share_in_place(const Phrase* const phrase,
               const Phrase* const other,
               bool (*const is_there)(Tick, Tick))
{
  unsigned n       = 0;
  unsigned n_there = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (!phrase->notes[i].is_ornament) {
      ++n;
      n_there += has_place(
        other, phrase->notes[i].grid_tick - phrase->start_tick, is_there);
    }
  }
  return n ? (double)n_there / n : 0.0;
}

static unsigned
n_written(const Phrase* const phrase)
{
  return phrase->n_notes - phrase->measures.n_ornaments;
}

// What of a rhythm was kept though it did not come off
static Miss
rhythm_miss(const Phrase* const phrase,
            const Phrase* const said,
            const Miss          miss)
{
  return !said                                          ? miss
         : share_in_place(said, phrase, is_kept) >= 1.0 ? MISS_MORE
         : share_in_place(phrase, said, is_kept) >= 1.0 ? MISS_SOME
                                                        : miss;
}

static bool
keeps_most(const Phrase* const phrase, const Phrase* const said)
{
  return share_in_place(said, phrase, is_kept) >= most_of_it;
}

// Some of the notes are enough, if they are in their places: those that were
// asked for, and where fewer were, any others of the whole
static Miss
along_miss(const Phrase* const   phrase,
           const GoalView* const view,
           const Miss            miss)
{
  const Phrase* const said  = view->said;
  const Phrase* const whole = view->whole ? view->whole : said;
  const double there = said ? share_in_place(phrase, whole, is_near) : 0.0;
  const bool goes = said && share_in_place(said, phrase, is_near) >= some_of_it;
  const Miss part = said && keeps_most(phrase, whole) ? MISS_MOST
                    : goes && there >= near_it        ? MISS_NEAR
                                                      : miss;
  return goes && there >= in_place ? MISS_NOTHING
                                   : rhythm_miss(phrase, whole, part);
}

// A note or two are like anything, and no line
static bool
is_long_enough(const Phrase* const phrase)
{
  return n_written(phrase) >= line_least;
}

static bool
leaves(const Phrase* const phrase, const GoalView* const view)
{
  return !is_long_enough(phrase) ||
         (!view->was_said &&
          (!view->line->n_notes ||
           likeness_to(phrase, view->line).whole < said_again));
}

// Of an echo what comes first is missed first
static Miss
echo_miss(const Goal goal, const Phrase* const phrase, const Phrase* const cell)
{
  const EchoPart came = cell ? goal_echo(phrase, cell) : ECHO_NOTHING;
  return came == ECHO_NOTHING ? rhythm_miss(phrase, cell, MISS_RHYTHM)
         : goal >= GOAL_LANDING && came == ECHO_RHYTHM ? MISS_LANDING
         : goal == GOAL_WHOLE && came == ECHO_LANDING  ? MISS_WHOLE
                                                       : MISS_NOTHING;
}

static Miss
unless(const bool is_met, const Miss miss)
{
  return is_met ? MISS_NOTHING : miss;
}

static Miss
line_miss(const Phrase* const phrase)
{
  const unsigned n = n_written(phrase);
  return n < line_least  ? MISS_LINE_SHORT
         : n > line_most ? MISS_LINE_LONG
                         : unless(facts_has_landed(phrase), MISS_LINE);
}

// A third note may stand for the root
static Miss
few_miss(const Phrase* const phrase, const GoalView* const view)
{
  const bool asks_root = view->n_notes < PATTERN_FEW_MOST;
  return fit_most_notes(phrase, view->chart) > view->n_notes
           ? MISS_FEW
           : unless(!asks_root || fit_has_roots(phrase, view->chart),
                    MISS_FEW_ROOT);
}

Miss
goal_miss(const Goal            goal,
          const Phrase* const   phrase,
          const GoalView* const view)
{
  assert(phrase->n_notes > 0);
  switch (goal) {
    case GOAL_ASK:
      return goal_is_home(phrase, view->chart)
               ? MISS_ASK
               : unless(facts_last(phrase).role != ROLE_OUTSIDE,
                        MISS_ASK_OUTSIDE);
    case GOAL_CLOSE:
      return unless(facts_has_landed(phrase) &&
                      facts_last(phrase).role == ROLE_ROOT,
                    MISS_CLOSE);
    case GOAL_RHYTHM:
    case GOAL_LANDING:
    case GOAL_WHOLE:
      return echo_miss(goal, phrase, view->said);
    case GOAL_FEW:
      return few_miss(phrase, view);
    case GOAL_LINE:
      return line_miss(phrase);
    case GOAL_AGAIN:
      return unless(likeness_to(phrase, view->line).whole >= said_again,
                    view->was_said && is_long_enough(phrase) ? MISS_AGAIN_OTHER
                                                             : MISS_AGAIN);
    case GOAL_LAST:
      return leaves(phrase, view) ? unless(facts_has_landed(phrase), MISS_LAST)
                                  : MISS_LAST_SAME;
    case GOAL_ALONG:
      return along_miss(phrase, view, MISS_ALONG);
    case GOAL_ALONE:
      return along_miss(phrase, view, MISS_ALONE);
    case GOAL_SING:
      return view->was_silent
               ? unless(facts_has_landed(phrase), MISS_SING_LANDING)
               : MISS_SING;
    case GOAL_NONE:
      break;
  }
  return MISS_NOTHING;
}

const char*
goal_text(const Goal goal, const Miss miss)
{
  static const char* const met[N_GOALS] = {
    [GOAL_NONE]    = "",
    [GOAL_ASK]     = "It asked.",
    [GOAL_CLOSE]   = "It came home.",
    [GOAL_RHYTHM]  = "The rhythm came back.",
    [GOAL_LANDING] = "Rhythm and last note came back.",
    [GOAL_WHOLE]   = "All of it came back.",
    [GOAL_FEW]     = "It kept to its few notes.",
    [GOAL_LINE]    = "The line landed.",
    [GOAL_AGAIN]   = "It was the line again.",
    [GOAL_LAST]    = "It left the line, and landed.",
    [GOAL_ALONG]   = "It went along in rhythm.",
    [GOAL_ALONE]   = "It took over the rhythm.",
    [GOAL_SING]    = "The bar was left to sing in, and it landed.",
  };
  static const char* const missed[N_MISSES] = {
    [MISS_NOTHING]      = "",
    [MISS_ASK]          = "It came home: no question.",
    [MISS_ASK_OUTSIDE]  = "It ended outside the chord.",
    [MISS_CLOSE]        = "It did not come home.",
    [MISS_RHYTHM]       = "The rhythm did not come back.",
    [MISS_LANDING]      = "The rhythm came back, the last note did not.",
    [MISS_WHOLE]        = "Not all of it came back.",
    [MISS_MORE]         = "All places of the rhythm were kept, others added.",
    [MISS_SOME]         = "It was in its places, but much was left out.",
    [MISS_MOST]         = "Most places of the rhythm were kept, among others.",
    [MISS_NEAR]         = "Half of it or more was in its places.",
    [MISS_FEW]          = "It used more notes than were allowed.",
    [MISS_FEW_ROOT]     = "It kept to few notes, but left out a root.",
    [MISS_LINE_SHORT]   = "It was too short for a line.",
    [MISS_LINE_LONG]    = "It was too long for a line.",
    [MISS_LINE]         = "The line did not land.",
    [MISS_AGAIN]        = "It was another line.",
    [MISS_AGAIN_OTHER]  = "It was a line said before, but not the first.",
    [MISS_LAST]         = "It left the line, but did not land.",
    [MISS_LAST_SAME]    = "It was a line said before.",
    [MISS_ALONG]        = "It went apart from what was played.",
    [MISS_ALONE]        = "It was not in the rhythm that was played before.",
    [MISS_SING]         = "It came before the bar to sing in was over.",
    [MISS_SING_LANDING] = "The bar was left to sing in, but it did not land.",
  };
  assert((unsigned)goal < N_GOALS && (unsigned)miss < N_MISSES);
  return miss == MISS_NOTHING ? met[goal] : missed[miss];
}
