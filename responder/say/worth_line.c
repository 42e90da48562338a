#include "core/music/interval.h"
#include "core/music/pitch.h"
#include "responder/say/weights.h"
#include "responder/say/worth_parts.h"

#include <math.h>
#include <stdlib.h>

enum {
  BLUE_THIRD   = 3,
  WANT_CLASSES = 6, // Of pitch, where the rung has three tones or more
};

/// Whether a note is said some times on purpose.
static bool
is_said(const Candidate* const c, const unsigned i)
{
  return draft_is_said(&c->draft->notes[i]);
}

double
worth_of_width(const Candidate* const c)
{
  const WorthWeights* const w    = &say_weights.worth;
  int                       low  = c->line[0];
  int                       high = c->line[0];
  unsigned                  tops = 0;
  unsigned                  peak = 0;
  for (unsigned i = 0; i < c->draft->n_notes; ++i) {
    const int      key = c->line[i];
    const unsigned one = is_said(c, i) ? 0 : 1;
    tops = key > high || i == 0 ? 1 : key == high ? tops + one : tops;
    peak = key > high ? i : peak;
    high = key > high ? key : high;
    low  = key < low ? key : low;
  }
  const double range = c->frame->notes->range;
  const double least =
    c->intent->shows_range
      ? w->wide_shown
      : range * (c->intent->manner == MANNER_LINE ? (double)w->range_least
                                                  : (double)w->range_spoken);
  const double most   = (double)w->range_most * range;
  const double is     = high - low;
  const double along  = (double)peak / c->draft->n_notes;
  const bool   climbs = along >= w->peak_from && along < w->peak_to;
  return (climbs ? (double)w->peak : 0.0) -
         (double)w->narrow * fmax(least - is, 0.0) -
         (double)w->wide * fmax(is - most, 0.0) -
         (double)w->top_again * (tops > 2 ? tops - 2.0 : 0.0);
}

/// Whether a pitch comes the third time within five notes.
static bool
hovers_at(const Candidate* const c, const unsigned i)
{
  unsigned n = 0;
  for (unsigned k = i < 4 ? 0 : i - 4; k < i; ++k) {
    n += c->line[k] == c->line[i] ? 1 : 0;
  }
  return n >= 2;
}

/// What bores in a line, counted.
typedef struct {
  unsigned repeats;
  unsigned stalls; ///< ... of what is not at home
  unsigned three;  ///< One pitch three times running
  unsigned aba;
  unsigned idle; ///< ... by way of a note outside, or to the end
  unsigned abab;
  unsigned zigzag;
  unsigned turns;
  unsigned hovers;
  unsigned along; ///< Most steps running one way: what bores least
} Monotony;

static Monotony
count_monotony(const Candidate* const c)
{
  const unsigned n     = c->draft->n_notes;
  Monotony       m     = {0};
  unsigned       along = 0;
  for (unsigned i = 1; i < n; ++i) {
    // This step, the last one, the one before that
    const int  a      = worth_step(c, i);
    const int  b      = i > 1 ? worth_step(c, i - 1) : 0;
    const int  e      = i > 2 ? worth_step(c, i - 2) : 0;
    const bool again  = a == 0 && !draft_is_planted_on(&c->draft->notes[i]);
    const bool back   = i > 1 && a == -b && a != 0;
    const bool turns  = a != 0 && interval_way(a) == -interval_way(b);
    const bool turned = interval_way(b) == -interval_way(e);
    const bool idle   = i + 1 == n || worth_role(c, i - 1) == ROLE_OUTSIDE;
    m.repeats += again ? 1 : 0;
    m.stalls += again && !worth_is_home(c, i) ? 1 : 0;
    m.three += i > 1 && a == 0 && b == 0 && !is_said(c, i) ? 1 : 0;
    m.aba += back ? 1 : 0;
    m.idle += back && idle ? 1 : 0;
    m.abab += back && i > 2 && b == -e ? 1 : 0;
    m.zigzag += turns && turned ? 1 : 0;
    m.turns += turns ? 1 : 0;
    m.hovers += hovers_at(c, i) && !is_said(c, i) ? 1 : 0;
    along   = a == 0 ? 0 : interval_way(a) == interval_way(b) ? along + 1 : 1;
    m.along = along > m.along ? along : m.along;
  }
  return m;
}

/// What bores: to and fro, the same again.
static double
monotony_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const Monotony            m     = count_monotony(c);
  const unsigned            n     = c->draft->n_notes;
  const double              tones = c->frame->notes->chord_tones;
  const double own = tones >= 3 ? 1.0 : tones == 2 ? (double)w->two_tones : 0.0;
  const double wavers = (double)m.turns / fmax(n - 2.0, 1.0);
  const bool   plain  = frame_is_plain(c->frame);
  const double calm   = by_rung(w->wavers, plain);
  const double each   = by_rung(w->wavering, plain);
  const bool   bold   = frame_boldness(c->frame) > 0.0;
  const double along  = bold ? 0.0 : fmin(m.along, w->along_most);
  return (double)w->along * along -
         own * ((double)w->repeats * m.repeats + (double)w->stalls * m.stalls +
                (double)w->three_running * m.three +
                (double)w->aba * fmax(m.aba - fmax(n / 7.0, 1.0), 0.0) +
                (double)w->idle * m.idle + (double)w->abab * m.abab +
                (double)w->hovering * m.hovers +
                (double)w->zigzag * fmax(m.zigzag - n * w->zigzag_free, 0.0) +
                each * fmax(wavers - calm, 0.0));
}

/// Whether an interval is the player's own; up to rungs of scale tones no wider
/// than in the call.
static bool
is_players(const Candidate* const c, const unsigned i)
{
  const DraftNote* const note = &c->draft->notes[i];
  return draft_is_planted_on(note) &&
         (frame_boldness(c->frame) > 0.0 ||
          abs(worth_step(c, i)) <= abs(note->interval));
}

static double
leap_worth(const Candidate* const c)
{
  const WorthWeights* const w = &say_weights.worth;
  const bool bold  = c->draft->is_whole || frame_boldness(c->frame) > 0.0;
  double     worth = 0.0;
  unsigned   leaps = 0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    if (!worth_joins(c, i) || is_players(c, i)) {
      continue;
    }
    const int  d    = worth_step(c, i);
    const int  on   = worth_joins(c, i + 1) ? worth_step(c, i + 1) : 0;
    const Tick gap  = c->draft->notes[i - 1].gap;
    const bool fast = gap < c->frame->beat / 2;
    const bool off  = !draft_is_on_beat(&c->draft->notes[i]);
    worth -= abs(d) > 9 ? (double)w->big_leap : 0.0;
    worth -= abs(d) > 5 && !bold ? (double)w->own_leap : 0.0;
    worth -= abs(d) == 6 ? (double)w->tritone : 0.0;
    worth -= abs(d) >= 7 && fast ? (double)w->fast_leap : 0.0;
    worth -= abs(d) > 5 && interval_way(d) == interval_way(on) && abs(on) > 2
               ? (double)w->leap_on
               : 0.0;
    worth -= abs(d) > 4 && abs(on) > 4 ? (double)w->two_leaps : 0.0;
    worth -=
      off && abs(d) >= 5 && c->draft->notes[i].gap >= c->frame->beat * 3 / 4
        ? (double)w->leap_to_off_beat
        : 0.0;
    leaps += abs(d) >= 5 && gap <= c->frame->off ? 1 : 0;
  }
  return worth - (double)w->leapy * (leaps > 2 ? leaps - 2.0 : 0.0);
}

/// Pitches that come too often; standing on one note beat after beat.
static double
standing_worth(const Candidate* const c)
{
  const WorthWeights* const w           = &say_weights.worth;
  unsigned                  counts[128] = {0};
  uint16_t                  classes     = 0;
  int                       before      = -1;
  double                    worth       = 0.0;
  const unsigned            n           = c->draft->n_notes;
  for (unsigned i = 0; i < n; ++i) {
    counts[c->line[i]] += is_said(c, i) ? 0 : 1;
    classes |= (uint16_t)(1U << c->line[i] % N_PITCH_CLASSES);
    if (c->draft->notes[i].place == PLACE_STRONG_BEAT) {
      worth -=
        c->line[i] == before && !is_said(c, i) ? (double)w->standing : 0.0;
      before = c->line[i];
    }
  }
  const unsigned kinds = pitch_classes_count(classes);
  const unsigned tones = c->frame->notes->chord_tones;
  const double   often =
    fmax(3.0, n * (frame_is_plain(c->frame) ? w->often_plain : w->often_free));
  for (unsigned key = 0; key < 128; ++key) {
    worth -=
      counts[key] > often ? (double)w->same_often * (counts[key] - often) : 0.0;
  }
  const unsigned asked = n * 2 / 3 < WANT_CLASSES ? n * 2 / 3 : WANT_CLASSES;
  const unsigned want  = tones >= 3 ? asked : tones;
  return worth - (double)w->few_classes * (kinds < want ? want - kinds : 0U);
}

/// What leads at rungs of chord tones; and what hurries at those of scale
/// tones.
static double
close_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const Tick                third = c->frame->beat / 3;
  unsigned                  semis = 0;
  unsigned                  skips = 0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    const DraftNote* const note  = &c->draft->notes[i];
    const int              size  = abs(worth_step(c, i));
    const bool             quick = note[-1].gap <= third;
    semis += worth_joins(c, i) && size == 1 ? 1 : 0;
    skips += quick && size > 2 && note->plant == NO_PLANT ? 1 : 0;
  }
  return frame_is_plain(c->frame)
           ? (double)w->semitone * fmin(semis, w->semitones_most)
         : frame_goes_outside(c->frame) ? 0.0
                                        : -(double)w->quick_skip * skips;
}

double
worth_of_line(const Candidate* const c)
{
  return monotony_worth(c) + leap_worth(c) + standing_worth(c) + close_worth(c);
}

/// Whether the note at `i` is reached from both sides by step.
static bool
is_enclosed(const Candidate* const c, const unsigned i)
{
  const int up   = c->line[i - 2] - c->line[i];
  const int down = c->line[i - 1] - c->line[i];
  return worth_is_home(c, i) && draft_is_on_beat(&c->draft->notes[i]) &&
         up * down < 0 && abs(up) <= 2 && abs(down) <= 2 &&
         (up == -1 || down == -1);
}

static bool
has_appoggiatura(const Candidate* const c)
{
  bool has = false;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    has = has || worth_is_appoggiatura(c, i);
  }
  return has;
}

double
worth_of_idioms(const Candidate* const c)
{
  const WorthWeights* const w       = &say_weights.worth;
  double                    idiom   = 0.0;
  unsigned                  run     = 0;
  unsigned                  longest = 0;
  unsigned                  outside = 0;
  for (unsigned i = 1; i < c->draft->n_notes; ++i) {
    const int  d   = worth_step(c, i);
    const int  b   = i > 1 ? worth_step(c, i - 1) : 0;
    const bool two = worth_joins(c, i) && worth_joins(c, i - 1);
    const bool blue =
      c->frame->is_blues && c->draft->notes[i - 1].chord.is_dominant;
    run     = worth_joins(c, i) && d != 0 && abs(d) <= 2
                ? (run > 0 && interval_way(d) != interval_way(b) ? 1 : run + 1)
                : 0;
    longest = run > longest ? run : longest;
    outside += worth_role(c, i) == ROLE_OUTSIDE ? 1 : 0;
    if (two) {
      idiom += is_enclosed(c, i) ? (double)w->enclosed : 0.0;
      idiom += (b == 3 || b == 4) && (d == 3 || d == 4) ? w->thirds_up : 0.0;
      idiom -= (b == 3 || b == 4) && (d == -3 || d == -4)
                 ? (double)w->thirds_back
                 : 0.0;
      idiom -= (b == -3 || b == -4) && (d == 3 || d == 4)
                 ? (double)w->thirds_back
                 : 0.0;
    }
    if (blue && worth_joins(c, i) && worth_degree(c, i - 1) == BLUE_THIRD &&
        (d == 1 || d == -3)) {
      idiom += (double)w->blue_third;
    }
  }
  const double most = (double)w->idioms_most * (1.0 + c->frame->freedom);
  const bool   runs = longest >= 4;
  return fmin(idiom, most) +
         (c->intent->shows_run && runs ? (double)w->shown : 0.0) +
         (c->intent->shows_outside && outside > 0 ? (double)w->shown : 0.0) +
         (has_appoggiatura(c) ? (double)w->shown : 0.0) -
         (double)w->chromatic * (outside > 3 ? outside - 3.0 : 0.0) -
         (double)w->long_run * (longest > 6 ? longest - 6.0 : 0.0);
}
