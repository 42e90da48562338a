#include "responder/hear/hands.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>

/// When notes count as struck together (ms). People hear two onsets as one up
/// to about 30 ms and as two beyond 60 (Hove, Keller & Krumhansl 2007; in
/// between the notes must also sound together. Tuned on half of the two-handed
/// takes, checked on the other half.
static const struct {
  double together;    ///< From the first note
  double overlapping; ///< From the first note, if they overlap
  double rolled;      ///< From note to note, if all overlap
  double roll;        ///< From the first note to the last of a rolled chord
  double overlap;     ///< Share of the shorter note that must overlap
} TOGETHER = {30, HANDS_TOGETHER_MS, 30, 100, 0.5};

/// What speaks for the left hand.
static const struct {
  unsigned many;       ///< So many notes together are surely a chord
  unsigned low;        ///< Semitones that a pair lies below the melody around
  unsigned very_low;   ///< ... that many notes do, wherever they lie
  unsigned bass;       ///< ... that a single note does
  unsigned under;      ///< Semitones that it lies below one that sounds on
  double   under_ms;   ///< ... for so long, or as long as it
  unsigned neighbours; ///< Groups on each side that tell where the melody is
} LEFT = {3, 5, 10, 16, 12, 100, 6};

/// What a note may be at most to be crushed into one struck with it.
static const struct {
  double   least_ms; ///< Before the main note
  double   ms;
  unsigned shorter; ///< Times shorter than the main note
  int      semitones;
} CRUSHED = {10, 100, 2, 4};

enum { NO_PITCH = 128 };

static bool
overlaps(const Note* const a, const Note* const b)
{
  const Tick a_ends  = a->tick + a->length;
  const Tick b_ends  = b->tick + b->length;
  const Tick ends    = a_ends < b_ends ? a_ends : b_ends;
  const Tick shorter = a->length < b->length ? a->length : b->length;
  return (double)(ends - b->tick) >= TOGETHER.overlap * (double)shorter;
}

/// Whether a note belongs to the group of those from `first` up to it.
static bool
joins(const Note* const first, const Note* const next, const double ms_per_tick)
{
  const Note* const before = next - 1;
  const double      gap_ms = (double)(next->tick - first->tick) * ms_per_tick;
  const double since_ms    = (double)(next->tick - before->tick) * ms_per_tick;
  if (gap_ms <= TOGETHER.together) {
    return true;
  }
  if (gap_ms <= TOGETHER.overlapping && overlaps(first, next)) {
    return true;
  }
  if (gap_ms > TOGETHER.roll || since_ms > TOGETHER.rolled) {
    return false;
  }
  for (const Note* note = first; note < next; ++note) {
    if (!overlaps(note, next)) {
      return false;
    }
  }
  return true;
}

static unsigned
top_of(const Note* const notes, const unsigned n)
{
  unsigned top = 0;
  for (unsigned i = 1; i < n; ++i) {
    top = notes[i].pitch > notes[top].pitch ? i : top;
  }
  return top;
}

/// Gather the notes struck together; those beyond the capacity are dropped.
static void
list_groups(Phrase* const     phrase,
            HearWork* const   work,
            const Hands       hands,
            const Note* const notes,
            const unsigned    n_notes)
{
  work->n_groups = 0;
  unsigned begin = 0;
  while (begin < n_notes && work->n_groups < HANDS_GROUP_CAPACITY) {
    unsigned end = begin + 1;
    while (end < n_notes &&
           joins(&notes[begin], &notes[end], hands.ms_per_tick)) {
      ++end;
    }
    const unsigned n               = end - begin;
    const unsigned top             = begin + top_of(&notes[begin], n);
    work->groups[work->n_groups++] = (HandsGroup){
      .first          = begin,
      .n              = n,
      .top            = top,
      .is_below_split = n > 1 && notes[top].pitch < hands.split_pitch,
    };
    begin = end;
  }
  phrase->n_dropped += n_notes - begin;
}

/// The middle of the top notes around a group that may be melody; NO_PITCH if
/// there are none.
static unsigned
melody_around(const HearWork* const work,
              const Note* const     notes,
              const unsigned        at)
{
  uint8_t        counts[NO_PITCH] = {0};
  unsigned       n                = 0;
  const unsigned first = at > LEFT.neighbours ? at - LEFT.neighbours : 0;
  const unsigned last  = at + LEFT.neighbours;
  for (unsigned i = first; i <= last && i < work->n_groups; ++i) {
    if (i != at && !work->groups[i].is_below_split) {
      ++counts[notes[work->groups[i].top].pitch];
      ++n;
    }
  }
  unsigned seen  = 0;
  unsigned pitch = 0;
  while (pitch < NO_PITCH && (n == 0 || (seen += counts[pitch]) <= n / 2)) {
    ++pitch;
  }
  return pitch;
}

/// Whether a note lies far under one of the groups before that sounds on.
static bool
is_under_melody(const HearWork* const work,
                const Note* const     notes,
                const unsigned        at,
                const double          ms_per_tick)
{
  const Note* const note  = &notes[work->groups[at].top];
  const Tick        least = (Tick)(LEFT.under_ms / ms_per_tick);
  const Tick until = note->tick + (note->length < least ? note->length : least);
  const unsigned first = at > LEFT.neighbours ? at - LEFT.neighbours : 0;
  for (unsigned i = first; i < at; ++i) {
    const Note* const above = &notes[work->groups[i].top];
    if (above->pitch >= note->pitch + LEFT.under &&
        above->tick + above->length >= until) {
      return true;
    }
  }
  return false;
}

/// Whether a group is the left hand's and holds no melody.
static bool
is_left_hand(const HearWork* const work,
             const Note* const     notes,
             const unsigned        at,
             const double          ms_per_tick)
{
  const HandsGroup* const group  = &work->groups[at];
  const unsigned          around = melody_around(work, notes, at);
  const unsigned          top    = notes[group->top].pitch;
  const unsigned below = around != NO_PITCH && around > top ? around - top : 0;
  if (group->n < 2) {
    return below >= LEFT.bass && is_under_melody(work, notes, at, ms_per_tick);
  }
  if (group->is_below_split && (around == NO_PITCH || below >= LEFT.low)) {
    return true;
  }
  return group->n >= LEFT.many &&
         (group->is_below_split || below >= LEFT.very_low);
}

static void
add_melody(Phrase* const phrase, const Note* const note, const bool is_ornament)
{
  if (phrase->n_notes == PHRASE_CAPACITY) {
    ++phrase->n_dropped;
    return;
  }
  phrase->notes[phrase->n_notes++] =
    (HeardNote){.note = *note, .is_ornament = is_ornament};
}

/// Whether a note struck with the top one, a semitone below it, is a grace note
/// crushed into it, and no chord.
static bool
is_crushed_second(const Note* const top,
                  const Note* const note,
                  const Hands       hands)
{
  const double gap_ms =
    (double)llabs(top->tick - note->tick) * hands.ms_per_tick;
  return top->pitch == note->pitch + 1 && note->pitch >= hands.split_pitch &&
         note->length <= top->length && gap_ms <= TOGETHER.together;
}

/// Whether a short note comes shortly before the top one.
static bool
is_crushed_before(const Note* const top,
                  const Note* const note,
                  const Hands       hands)
{
  const double gap_ms = (double)(top->tick - note->tick) * hands.ms_per_tick;
  return note < top && top->pitch != note->pitch &&
         top->pitch - note->pitch <= CRUSHED.semitones &&
         gap_ms >= CRUSHED.least_ms &&
         (double)note->length * hands.ms_per_tick <= CRUSHED.ms &&
         note->length * CRUSHED.shorter <= top->length;
}

/// Find a note of the group that is crushed into its top one, NULL if none is.
static const Note*
crushed_into(const Note* const       top,
             const HandsGroup* const group,
             const Note* const       notes,
             const Hands             hands)
{
  for (unsigned i = group->first; i < group->first + group->n; ++i) {
    const Note* const note = &notes[i];
    if (is_crushed_before(top, note, hands) ||
        (group->n == 2 && is_crushed_second(top, note, hands))) {
      return note;
    }
  }
  return NULL;
}

void
hands_part(Phrase* const     phrase,
           HearWork* const   work,
           const Hands       hands,
           const Note* const notes,
           const unsigned    n_notes)
{
  phrase->n_notes   = 0;
  phrase->n_comping = 0;
  phrase->n_dropped = 0;
  list_groups(phrase, work, hands, notes, n_notes);
  for (unsigned i = 0; i < work->n_groups; ++i) {
    const HandsGroup* const group = &work->groups[i];
    if (is_left_hand(work, notes, i, hands.ms_per_tick)) {
      phrase->n_comping += group->n;
      continue;
    }
    const Note* const top     = &notes[group->top];
    const Note* const crushed = crushed_into(top, group, notes, hands);
    if (crushed) {
      Note before = *crushed;
      before.tick = before.tick < top->tick ? before.tick : top->tick;
      add_melody(phrase, &before, true);
    }
    add_melody(phrase, top, false);
    phrase->n_comping += group->n - (crushed ? 2 : 1);
  }
}
