/// @file responder/say/curve.h Where a free line is heading: arches and slopes.

#ifndef RESPONDER_SAY_CURVE_H
#define RESPONDER_SAY_CURVE_H

#include "core/rng.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/// How a stretch of line runs (Huron 1996).
typedef enum {
  SHAPE_CONVEX,
  SHAPE_FALLING,
  SHAPE_RISING,
  SHAPE_CONCAVE,
} Shape;

/// Choose a shape by how often melodies have it.
Shape
curve_choose(Rng* rng);

/**
   Wish a curve of pitches for the notes `first` up to, not with, `end`.

   @param from Where the curve begins or, of an arch, its foot; MIDI key.
   @param width Semitones between its lowest and highest point.
*/
void
curve_lay(Sketch*  sketch,
          unsigned first,
          unsigned end,
          Shape    shape,
          int      from,
          int      width);

/// Return how wide curves should be at this rung, semitones.
int
curve_width(const Frame* frame);

/// Return the pitch some steps up or down from another, through the notes that
/// the rung allows at a tick.
int
curve_step(Frame* frame, Tick tick, int pitch, int steps);

#endif // RESPONDER_SAY_CURVE_H
