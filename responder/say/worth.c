#include "responder/say/worth.h"

#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>

enum {
  OCTAVE     = 12,
  BLUE_THIRD = 3,
  BLUE_FIFTH = 6,
};

static int
sign(const int x)
{
  return (x > 0) - (x < 0);
}

static int
step_to(const Candidate* const c, const unsigned i)
{
  return c->line[i] - c->line[i - 1];
}

static unsigned
count_of(const Candidate* const c)
{
  return c->draft->n_notes;
}

/// Whether two notes running belong to one phrase.
static bool
joins(const Candidate* const c, const unsigned i)
{
  return i > 0 && i < count_of(c) && !c->draft->notes[i].begins;
}

static bool
is_home(const Candidate* const c, const unsigned i)
{
  return draft_is_home(&c->draft->notes[i], c->line[i]);
}

static unsigned
degree_of(const Candidate* const c, const unsigned i)
{
  return draft_degree(&c->draft->notes[i], c->line[i]);
}

static unsigned
role_of(const Candidate* const c, const unsigned i)
{
  return c->draft->notes[i].chord.roles[c->line[i] % OCTAVE];
}

/// Whether a note is planted together with the one before it.
static bool
is_planted(const Candidate* const c, const unsigned i)
{
  const DraftNote* const note = &c->draft->notes[i];
  return note->plant != NO_PLANT && note[-1].plant == note->plant;
}

// The end

static double
end_worth(const Candidate* const c)
{
  const WorthWeights* const w    = &say_weights.worth;
  const Frame* const        f    = c->frame;
  const unsigned            last = count_of(c) - 1;
  const DraftNote* const    note = &c->draft->notes[last];
  const Tick                past = note->tick - tick_floor(note->tick, f->half);
  const Tick                lead = f->beat - f->off;
  double                    worth = 0.0;
  worth -= past != 0 && past != f->half - lead ? (double)w->weak_end : 0.0;
  worth -= note->tick > f->end - f->beat - lead ? (double)w->no_room : 0.0;
  if (last > 0) {
    const int step = step_to(c, last);
    worth -= abs(step) > 4 ? (double)w->leap_into_end : 0.0;
    worth -= step == 0 ? (double)w->repeat_into_end : 0.0;
    worth -= note->tick - note[-1].tick > f->beat ? (double)w->unled_end : 0.0;
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
  const bool                home = is_home(c, i);
  const unsigned            role = role_of(c, i);
  const unsigned            d    = degree_of(c, i);
  const bool                next = joins(c, i + 1);
  const int                 on   = next ? step_to(c, i + 1) : 0;
  const bool                led  = next && on != 0 && abs(on) <= 2 &&
                   note->gap <= c->frame->beat && is_home(c, i + 1);
  const bool blue = c->frame->is_blues && note->chord.is_dominant;
  if (home) {
    return 0.0;
  }
  double worth = 0.0;
  if (note->place == PLACE_STRONG_BEAT) {
    worth -= role == ROLE_SCALE_TONE
               ? bold * (double)(led ? w->strong_led : w->strong_clash)
               : (double)(led ? w->strong_outside_led : w->strong_outside);
  } else if (frame_in_beat(c->frame, note->tick) == 0 && role == ROLE_OUTSIDE &&
             !(blue && d == BLUE_THIRD)) {
    worth -= (double)w->outside_on_beat;
  }
  const bool colour = d == 2 || d == 9;
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

/// Where the chord changes: the first note of the new one.
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
  const unsigned d     = degree_of(c, i);
  const bool     guide = d == chord->third || d == chord->seventh;
  const bool     step  = joins(c, i) && abs(step_to(c, i)) <= 2;
  return guide
           ? (double)w->change_heard + (step ? (double)w->change_by_step : 0.0)
         : !is_home(c, i) ? -(double)w->change_missed
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
  for (unsigned i = 0; i < count_of(c); ++i) {
    const RoleRow* const chord = &c->draft->notes[i].chord;
    const unsigned       d     = degree_of(c, i);
    const bool plain = d == 0 || d == chord->third || d == chord->fifth;
    run              = plain ? run + 1 : 0;
    any              = any || d == chord->seventh;
    may = may || chord->bears[(chord->root + chord->seventh) % OCTAVE];
    worth -= run >= 4 ? (double)w->bugle : 0.0;
  }
  return !may ? 0.0 : worth - (any ? 0.0 : (double)w->no_seventh);
}

// The line

static double
width_worth(const Candidate* const c)
{
  const WorthWeights* const w    = &say_weights.worth;
  int                       low  = c->line[0];
  int                       high = c->line[0];
  unsigned                  tops = 0;
  for (unsigned i = 0; i < count_of(c); ++i) {
    const int key = c->line[i];
    tops          = key > high || i == 0 ? 1 : key == high ? tops + 1 : tops;
    high          = key > high ? key : high;
    low           = key < low ? key : low;
  }
  const double range = c->frame->notes->range;
  const double least =
    c->intent->shows_range ? w->wide_shown : (double)w->range_least * range;
  const double most = (double)w->range_most * range;
  const double is   = high - low;
  return -(double)w->narrow * fmax(least - is, 0.0) -
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

/// What bores: to and fro, the same again.
static double
monotony_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const unsigned            n     = count_of(c);
  const double              tones = c->frame->notes->chord_tones;
  const double own = tones >= 3 ? 1.0 : tones == 2 ? (double)w->two_tones : 0.0;
  unsigned     repeats = 0;
  unsigned     aba     = 0;
  unsigned     abab    = 0;
  unsigned     three   = 0;
  unsigned     zigzag  = 0;
  unsigned     turns   = 0;
  unsigned     hovers  = 0;
  for (unsigned i = 1; i < n; ++i) {
    const int a = step_to(c, i);
    const int b = i > 1 ? step_to(c, i - 1) : 0;
    const int e = i > 2 ? step_to(c, i - 2) : 0;
    repeats += a == 0 && !is_planted(c, i) ? 1 : 0;
    three += i > 1 && a == 0 && b == 0 ? 1 : 0;
    aba += i > 1 && a == -b && a != 0 ? 1 : 0;
    abab += i > 2 && a == -b && b == -e && a != 0 ? 1 : 0;
    zigzag += sign(a) == -sign(b) && sign(b) == -sign(e) && a != 0 ? 1 : 0;
    turns += i > 1 && a != 0 && sign(a) == -sign(b) ? 1 : 0;
    hovers += hovers_at(c, i) ? 1 : 0;
  }
  const double wavers = (double)turns / fmax(n - 2.0, 1.0);
  const double calm =
    c->frame->freedom > 0.0 ? (double)w->wavers_free : (double)w->wavers_plain;
  return -own * ((double)w->repeats * fmax(repeats - 1.0, 0.0) +
                 (double)w->three_running * three +
                 (double)w->aba * fmax(aba - fmax(n / 7.0, 1.0), 0.0) +
                 (double)w->abab * abab + (double)w->hovering * hovers +
                 (double)w->zigzag * fmax(zigzag - n * w->zigzag_free, 0.0) +
                 (double)w->wavering * fmax(wavers - calm, 0.0));
}

static double
leap_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  double                    worth = 0.0;
  unsigned                  leaps = 0;
  for (unsigned i = 1; i < count_of(c); ++i) {
    if (!joins(c, i)) {
      continue;
    }
    const int  d    = step_to(c, i);
    const int  on   = joins(c, i + 1) ? step_to(c, i + 1) : 0;
    const Tick gap  = c->draft->notes[i - 1].gap;
    const bool fast = gap < c->frame->beat / 2;
    const bool off  = frame_in_beat(c->frame, c->draft->notes[i].tick) != 0;
    worth -= abs(d) > 9 ? (double)w->big_leap : 0.0;
    worth -= abs(d) == 6 ? (double)w->tritone : 0.0;
    worth -= abs(d) >= 7 && fast ? (double)w->fast_leap : 0.0;
    worth -= abs(d) > 5 && sign(d) == sign(on) && abs(on) > 2
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
  const unsigned            n           = count_of(c);
  for (unsigned i = 0; i < n; ++i) {
    ++counts[c->line[i]];
    classes |= (uint16_t)(1U << c->line[i] % OCTAVE);
    if (c->draft->notes[i].place == PLACE_STRONG_BEAT) {
      worth -= c->line[i] == before ? (double)w->standing : 0.0;
      before = c->line[i];
    }
  }
  unsigned kinds = 0;
  for (unsigned pc = 0; pc < OCTAVE; ++pc) {
    kinds += (unsigned)classes >> pc & 1U;
  }
  const unsigned tones = c->frame->notes->chord_tones;
  const double   often =
    fmax(3.0, n * (c->frame->freedom > 0.0 ? w->often_free : w->often_plain));
  for (unsigned key = 0; key < 128; ++key) {
    worth -= (double)w->same_often * fmax(counts[key] - often, 0.0);
  }
  const unsigned want = tones >= 3 ? 4 : tones;
  return worth - (kinds < want && kinds < n / 2 ? (double)w->few_classes : 0.0);
}

/// Whether the note at `i` is reached from both sides by step.
static bool
is_enclosed(const Candidate* const c, const unsigned i)
{
  const int up   = c->line[i - 2] - c->line[i];
  const int down = c->line[i - 1] - c->line[i];
  return is_home(c, i) &&
         frame_in_beat(c->frame, c->draft->notes[i].tick) == 0 &&
         up * down < 0 && abs(up) <= 2 && abs(down) <= 2 &&
         (up == -1 || down == -1);
}

/// What players do that is known by ear.
static double
idiom_worth(const Candidate* const c)
{
  const WorthWeights* const w       = &say_weights.worth;
  double                    idiom   = 0.0;
  unsigned                  run     = 0;
  unsigned                  longest = 0;
  unsigned                  outside = 0;
  for (unsigned i = 1; i < count_of(c); ++i) {
    const int  d   = step_to(c, i);
    const int  b   = i > 1 ? step_to(c, i - 1) : 0;
    const bool two = joins(c, i) && joins(c, i - 1);
    const bool blue =
      c->frame->is_blues && c->draft->notes[i - 1].chord.is_dominant;
    run     = joins(c, i) && d != 0 && abs(d) <= 2
                ? (run > 0 && sign(d) != sign(b) ? 1 : run + 1)
                : 0;
    longest = run > longest ? run : longest;
    outside += role_of(c, i) == ROLE_OUTSIDE ? 1 : 0;
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
    if (blue && joins(c, i) && degree_of(c, i - 1) == BLUE_THIRD &&
        (d == 1 || d == -3)) {
      idiom += (double)w->blue_third;
    }
  }
  const double most = (double)w->idioms_most * (1.0 + c->frame->freedom);
  const bool   runs = longest >= 4;
  return fmin(idiom, most) +
         (c->intent->shows_run && runs ? (double)w->shown : 0.0) +
         (c->intent->shows_outside && outside > 0 ? (double)w->shown : 0.0) -
         (double)w->chromatic * (outside > 3 ? outside - 3.0 : 0.0) -
         (double)w->long_run * (longest > 6 ? longest - 6.0 : 0.0);
}

// The rhythm

static double
rhythm_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const Frame* const        f     = c->frame;
  const unsigned            n     = count_of(c);
  unsigned                  held  = 0;
  unsigned                  lone  = 0;
  unsigned                  quick = 0;
  unsigned                  on    = 0;
  unsigned                  whole = 0;
  double                    worth = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    const DraftNote* const note = &c->draft->notes[i];
    const bool             off  = frame_in_beat(f, note->tick) != 0;
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
  for (unsigned i = 0, k = 0; i < count_of(c); ++i) {
    const Tick at = c->draft->notes[i].tick - c->frame->start;
    while (k < call->n_notes && call->ticks[k] < at) {
      ++k;
    }
    n += k < call->n_notes && call->ticks[k] == at ? 1 : 0;
  }
  return n;
}

static double
call_worth(const Candidate* const c)
{
  const WorthWeights* const w    = &say_weights.worth;
  const Source* const       call = c->call->source;
  if (call->n_notes == 0) {
    return 0.0;
  }
  const unsigned same  = traced(c);
  const double   share = (double)same / (count_of(c) + call->n_notes - same);
  const bool     near  = abs(c->line[0] - c->call->last_pitch) <= 4;
  bool           taken = false;
  for (unsigned i = 0; i < count_of(c); ++i) {
    const unsigned pc = c->line[i] % OCTAVE;
    taken = taken || (c->call->classes >> pc & 1U && !is_home(c, i));
  }
  return -(double)w->traced * fmax(share - w->traced_free, 0.0) +
         (near ? (double)w->begins_near : 0.0) +
         (taken ? (double)w->colour_taken : 0.0);
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

/// Return the place of the first note of a planting; the count if none.
static unsigned
plant_begin(const Candidate* const c, const unsigned plant)
{
  unsigned i = 0;
  while (i < count_of(c) && c->draft->notes[i].plant != plant) {
    ++i;
  }
  return i;
}

/// What is lost where the cell comes again note for note, and where that is
/// the end of the answer: nothing was done to it.
static double
again_worth(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  const unsigned            first = plant_begin(c, 0);
  unsigned                  i     = plant_begin(c, 1);
  bool                      same  = i < count_of(c);
  for (unsigned k = 0; i < count_of(c) && c->draft->notes[i].plant == 1; ++k) {
    same = same && c->line[first + k] == c->line[i];
    ++i;
  }
  return !same ? 0.0
               : -(double)w->same_again -
                   (i == count_of(c) ? (double)w->same_to_the_end : 0.0);
}

/// A leap beyond a fifth turns back by step, a tritone goes on by step; else
/// its note hangs in the air.
static double
hanging_leaps(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  double                    worth = 0.0;
  for (unsigned i = 1; i < count_of(c); ++i) {
    const int  d    = step_to(c, i);
    const int  on   = joins(c, i + 1) ? step_to(c, i + 1) : 0;
    const bool step = on != 0 && abs(on) <= 2;
    const bool back = step && sign(on) == -sign(d);
    worth -= (joins(c, i) && abs(d) > 7 && !back) || abs(d) > 12
               ? (double)w->leap_left
               : 0.0;
    worth -=
      joins(c, i) && abs(d) == 6 && !step ? (double)w->tritone_left : 0.0;
  }
  return worth;
}

/// What lines of chord tones live by: the player's rhythm and colour taken up,
/// something done to their cell, a sure end.
static double
plain_worth(const Candidate* const c)
{
  const WorthWeights* const w                     = &say_weights.worth;
  const Source* const       call                  = c->call->source;
  const unsigned            n                     = count_of(c);
  Tick                      ticks[DRAFT_CAPACITY] = {0};
  bool                      blue                  = false;
  for (unsigned i = 0; i < n; ++i) {
    ticks[i] = c->draft->notes[i].tick;
    blue     = blue || (c->call->blues >> c->line[i] % OCTAVE & 1U);
  }
  const double asked = fmax(life_of(c->frame, call->ticks, call->n_notes),
                            c->frame->rhythm->eighths ? w->life_least : 0.0);
  const double lacks = c->frame->rhythm->off_beats
                         ? 0.0
                         : fmax(asked - life_of(c->frame, ticks, n), 0.0);
  const int    last  = n > 1 ? abs(step_to(c, n - 1)) : 0;
  return again_worth(c) - (double)w->lifeless * lacks +
         (blue ? (double)w->blue_taken : 0.0) +
         (last == 1 || last == 2 ? (double)w->ends_by_step : 0.0);
}

static bool
has_second_plant(const Draft* const draft)
{
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    if (draft->notes[i].plant == 1) {
      return true;
    }
  }
  return false;
}

double
worth_of(const Candidate* const c)
{
  const WorthWeights* const w     = &say_weights.worth;
  double                    worth = end_worth(c);
  for (unsigned i = 0; i < count_of(c); ++i) {
    worth += chord_worth_of(c, i) + change_worth(c, i);
  }
  worth += monotony_worth(c) + leap_worth(c) + standing_worth(c);
  if (c->frame->freedom > 0.0) {
    worth += idiom_worth(c);
  }
  if (c->frame->freedom <= 0.0) {
    worth += hanging_leaps(c);
  }
  if (!c->draft->is_whole) {
    const double off = fabs(count_of(c) - c->intent->notes);
    worth += rhythm_worth(c) + call_worth(c) + colour_worth(c) + width_worth(c);
    worth -= (double)w->count_off * fmax(off - 1.0, 0.0);
    worth += has_second_plant(c->draft) ? (double)w->said_twice : 0.0;
    worth += c->frame->freedom <= 0.0 ? plain_worth(c) : 0.0;
  }
  return worth;
}
