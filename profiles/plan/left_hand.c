#include "profiles/plan/left_hand.h"

#include "core/music/pitch.h"
#include "core/music/spelling.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/// Semitones between the two lowest keys: up to the first the fourth finger
/// lies beside the fifth, from the second on the second finger is needed (left
/// hand chords; common practice, no source).
enum { CLOSE_GAP = 2, WIDE_GAP = 5 };

/// Lay the chord's weighty tones out from a lowest key up; none if that key is
/// no tone of it.
static HandShape
shape_from(const Chord* const chord, const unsigned lowest)
{
  HandShape shape = {.n = 0};
  for (unsigned pitch = lowest;
       pitch < lowest + OCTAVE && shape.n < LEFT_HAND_KEYS;
       ++pitch) {
    if (chord_has_core_tone(chord, pitch)) {
      shape.pitches[shape.n++] = (uint8_t)pitch;
    } else if (pitch == lowest) {
      return shape;
    }
  }
  return shape;
}

static void
finger(HandShape* const shape)
{
  static const HandShape usual[] = {
    {.n = 1, .fingers = {1}},
    {.n = 2, .fingers = {5, 1}},
    {.n = 3, .fingers = {5, 3, 1}},
    {.n = 4, .fingers = {5, 3, 2, 1}},
  };
  const int gap = shape->pitches[1] - shape->pitches[0];
  assert(shape->n >= 1 && shape->n <= LEFT_HAND_KEYS);
  memcpy(shape->fingers, usual[shape->n - 1].fingers, sizeof(shape->fingers));
  if (shape->n == 4 && gap <= CLOSE_GAP) {
    shape->fingers[1] = 4;
  } else if (shape->n == 3 && gap >= WIDE_GAP) {
    shape->fingers[1] = 2;
  }
}

/// Return how far the keys move, in semitones, top to top and down; a key more
/// or less moves from or to its neighbour.
static int
movement(const HandShape* const from, const HandShape* const to)
{
  const unsigned n   = from->n > to->n ? from->n : to->n;
  int            sum = 0;
  for (unsigned i = 1; i <= n; ++i) {
    sum += abs(from->pitches[i < from->n ? from->n - i : 0] -
               to->pitches[i < to->n ? to->n - i : 0]);
  }
  return sum;
}

HandShape
left_hand_shape(const Chord* const chord, const HandShape* const last)
{
  HandShape best       = {.n = 0};
  int       best_moved = 0;
  if (chord_is_silence(chord)) {
    return best;
  }
  if (last->n == 0) {
    const unsigned root = spelling_pitch_class(chord->root);
    best                = shape_from(chord,
                      LEFT_HAND_LOWEST +
                        (root + OCTAVE - LEFT_HAND_LOWEST % OCTAVE) % OCTAVE);
    finger(&best);
    return best;
  }
  for (unsigned low = LEFT_HAND_LOWEST; low <= LEFT_HAND_HIGHEST; ++low) {
    const HandShape shape = shape_from(chord, low);
    if (shape.n == 0 || shape.pitches[shape.n - 1] > LEFT_HAND_HIGHEST) {
      continue;
    }
    const int moved   = movement(last, &shape);
    const int strayed = abs(shape.pitches[0] - last->pitches[0]);
    if (best.n == 0 || moved < best_moved ||
        (moved == best_moved &&
         strayed < abs(best.pitches[0] - last->pitches[0]))) {
      best       = shape;
      best_moved = moved;
    }
  }
  finger(&best);
  return best;
}

/// Return the first change with the same chord.
static unsigned
first_alike(const Chart* const chart, const unsigned change)
{
  unsigned first = 0;
  while (!chord_equals(&chart->changes[first].chord,
                       &chart->changes[change].chord)) {
    ++first;
  }
  return first;
}

void
left_hand_shapes(const Chart* const chart,
                 HandShape          shapes[CHART_CHANGE_CAPACITY])
{
  HandShape last = {.n = 0};
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const unsigned first = first_alike(chart, i);
    shapes[i]            = first < i ? shapes[first]
                                     : left_hand_shape(&chart->changes[i].chord, &last);
    last                 = shapes[i].n > 0 ? shapes[i] : last;
  }
}
