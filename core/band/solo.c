#include "core/band/solo.h"

#include <math.h>

/// How the band follows a player's touch (by ear).
static const struct {
  double usual; ///< The velocity that the feels are written for
  double share; ///< Of the difference, that the band goes along with
} FOLLOW = {76.0, 0.6};

Solo
solo_silent(void)
{
  return (Solo){.accent = SOLO_NO_ACCENT};
}

void
solo_add(Solo* const solo, const SoloNote note)
{
  if (solo->n_notes == SOLO_CAPACITY) {
    return;
  }
  unsigned to = solo->n_notes++;
  for (; to > 0 && solo->notes[to - 1].begin > note.begin; --to) {
    solo->notes[to] = solo->notes[to - 1];
  }
  solo->notes[to] = note;
}

static unsigned
count_onsets(const Solo* const solo, const Tick from, const Tick to)
{
  unsigned n = 0;
  for (unsigned i = 0; i < solo->n_notes; ++i) {
    n += solo->notes[i].begin >= from && solo->notes[i].begin < to;
  }
  return n;
}

bool
solo_is_busy(const Solo* const solo, const Tick tick, const Tick beat)
{
  bool is_busy = count_onsets(solo, tick, tick + beat) >= SOLO_BUSY_NOTES;
  for (unsigned i = 0; i < solo->n_notes && !is_busy; ++i) {
    const Tick begin = solo->notes[i].begin;
    is_busy          = begin <= tick && begin + beat > tick &&
              count_onsets(solo, begin, begin + beat) >= SOLO_BUSY_NOTES;
  }
  return is_busy;
}

bool
solo_rests(const Solo* const solo, const Tick tick, const Tick beat)
{
  Tick from = tick - beat;
  Tick to   = tick;
  while (solo_next_rest(solo, &from, tick + beat, beat, &to)) {
    if (from <= tick && tick < to) {
      return true;
    }
    from = to;
  }
  return false;
}

/// Return the end of the note that sounds at a tick, or the tick.
static Tick
end_at(const Solo* const solo, const Tick tick)
{
  Tick end = tick;
  for (unsigned i = 0; i < solo->n_notes; ++i) {
    const SoloNote* const note = &solo->notes[i];
    end = note->begin <= end && note->end > end ? note->end : end;
  }
  return end;
}

static Tick
next_onset(const Solo* const solo, const Tick from, const Tick to)
{
  Tick next = to;
  for (unsigned i = 0; i < solo->n_notes; ++i) {
    const Tick begin = solo->notes[i].begin;
    next             = begin >= from && begin < next ? begin : next;
  }
  return next;
}

bool
solo_next_rest(const Solo* const solo,
               Tick* const       from,
               const Tick        span_end,
               const Tick        beat,
               Tick* const       to)
{
  while (*from < span_end) {
    const Tick begin = end_at(solo, *from);
    const Tick end   = next_onset(solo, begin, span_end);
    if (end - begin >= beat) {
      *from = begin;
      *to   = end;
      return true;
    }
    *from = end > *from ? end : span_end;
  }
  return false;
}

static bool
sounds_in(const SoloNote* const note, const Tick from, const Tick to)
{
  return note->begin < to && note->end > from;
}

unsigned
solo_ceiling(const Solo* const solo,
             const Tick        from,
             const Tick        to,
             const unsigned    highest)
{
  unsigned ceiling = highest;
  for (unsigned i = 0; i < solo->n_notes; ++i) {
    const SoloNote* const note = &solo->notes[i];
    if (sounds_in(note, from, to) && note->pitch < ceiling + SOLO_CLEARANCE) {
      ceiling = note->pitch > SOLO_CLEARANCE
                  ? note->pitch - (unsigned)SOLO_CLEARANCE
                  : 0U;
    }
  }
  return ceiling;
}

Tick
solo_comes_down(const Solo* const solo,
                const Tick        from,
                const Tick        to,
                const unsigned    top)
{
  Tick end = to;
  for (unsigned i = 0; i < solo->n_notes; ++i) {
    const SoloNote* const note = &solo->notes[i];
    if (sounds_in(note, from, end) && note->pitch < top + SOLO_CLEARANCE) {
      end = note->begin > from ? note->begin : from;
    }
  }
  return end;
}

int
solo_louder(const double velocity)
{
  const double wished = FOLLOW.share * (velocity - FOLLOW.usual);
  if (velocity <= 0.0) {
    return 0;
  }
  return (int)lround(fmin(fmax(wished, -SOLO_LOUDER), SOLO_LOUDER));
}
