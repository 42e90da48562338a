#include "responder/say/curve.h"

#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>

static const double PEAK_PLACE = 0.6; // Arches lean to the end (by ear)

/// Return the height of a shape, 0..1, `along` 0..1 of its way.
static double
height(const Shape shape, const double along)
{
  const double rise = along < PEAK_PLACE ? along / PEAK_PLACE
                                         : (1.0 - along) / (1.0 - PEAK_PLACE);
  switch (shape) {
    case SHAPE_CONVEX:
      return rise;
    case SHAPE_FALLING:
      return 1.0 - along;
    case SHAPE_RISING:
      return along;
    case SHAPE_CONCAVE:
      return 1.0 - rise;
  }
  return 0.0;
}

Shape
curve_choose(Rng* const rng)
{
  return (Shape)rng_pick(rng, say_weights.shapes, N_SHAPES);
}

void
curve_lay(Sketch* const  sketch,
          const unsigned first,
          const unsigned end,
          const Shape    shape,
          const int      from,
          const int      width)
{
  if (first >= end) {
    return;
  }
  const double start = height(shape, 0.0);
  const double span  = fmax(
    (double)(sketch->notes[end - 1].tick - sketch->notes[first].tick), 1.0);
  for (unsigned i = first; i < end; ++i) {
    SketchNote* const note = &sketch->notes[i];
    const double      along =
      (double)(note->tick - sketch->notes[first].tick) / span;
    const double rise   = (height(shape, along) - start) * width;
    note->pitch         = (int16_t)(from + lround(rise));
    note->pitch_fall    = say_weights.curve;
    note->interval_fall = NO_WISH;
  }
}

int
curve_width(const Frame* const frame)
{
  const int range = frame->notes->range;
  return range < 5 ? range : range * 2 / 3 + 1;
}

static bool
is_step(Frame* const frame, const Tick tick, const int pitch)
{
  const RoleRow* const row = frame_roles(frame, tick);
  const unsigned       pc =
    (unsigned)(pitch + 10 * N_PITCH_CLASSES) % N_PITCH_CLASSES;
  return row->bears[pc] || (row->roles[pc] <= ROLE_SCALE_TONE &&
                            frame->notes->scale_share > 0.0F);
}

int
curve_step(Frame* const frame,
           const Tick   tick,
           const int    pitch,
           const int    steps)
{
  const int direction = steps < 0 ? -1 : 1;
  int       at        = pitch;
  for (int left = abs(steps); left > 0;) {
    at += direction;
    left -= is_step(frame, tick, at) ? 1 : 0;
    if (abs(at - pitch) > 3 * N_PITCH_CLASSES) {
      return pitch; // The rung allows nothing here
    }
  }
  return at;
}
