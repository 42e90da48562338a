/// @file core/paper/axes.h A plot on paper: labelled axes, lines, bars.
///
/// What a line stands for is told by its ink, its dashes and its marks at once,
/// so that it is told apart without colour, too.

#ifndef CORE_PAPER_AXES_H
#define CORE_PAPER_AXES_H

#include "core/paper/paper.h"

#include <stdbool.h>
#include <stddef.h>

enum { AXES_TEXT_CAPACITY = 24, AXES_PLACES_MOST = 6 };

/// Write the label of a value; return `text`.
typedef const char* (*AxesLabel)(double value, char text[AXES_TEXT_CAPACITY]);

/// A plot: a plain value.
typedef struct {
  const char* title;
  const char* y_name; ///< What goes up, and in what unit; `minutes a day`
  const char* x_name;
  PaperPoint  corner; ///< Upper left of all of it, labels too
  double      width;
  double      height;
  double      x_least;
  double      x_most; ///< Above x_least
  double      y_least;
  double      y_most; ///< Above y_least
  double      y_step; ///< Between ticks
  unsigned    n_places;
  double      x_places[AXES_PLACES_MOST]; ///< Of ticks, rising
  AxesLabel   x_label;
  AxesLabel   y_label;
} Axes;

typedef enum { AXES_DISC, AXES_SQUARE, AXES_TRIANGLE, AXES_DIAMOND } AxesMark;

/// How a line looks.
typedef struct {
  const char* name; ///< For the legend
  PaperInk    ink;
  PaperDash   dash;
  AxesMark    mark;
  bool        is_stepped; ///< Keeps its value up to the next
  double      lift;       ///< Points up, so that lines do not hide each other
} AxesLine;

/// Return a step between ticks so that about `n_ticks` make up a range: 1, 2 or
/// 5 times a power of ten.
double
axes_step(double range, unsigned n_ticks);

/**
   Choose which labels under an axis are drawn, so that none lies over another:
   the first and the last, and of the others those that there is room for.

   @param[in,out] centres Of `n` labels, rising; the first and the last are
   moved apart if even these two would meet.
   @param widths Of the labels, in the same unit.
   @param gap Between two of them, at least.
   @param[out] is_shown Of `n` labels.
*/
void
axes_thin(unsigned     n,
          double       centres[],
          const double widths[],
          double       gap,
          bool         is_shown[]);

/// Draw the frame with its grid, ticks and labels.
void
axes_draw(Paper* paper, const Axes* axes);

/// Draw a line through `n` points by rising x; it is broken where y is NAN.
void
axes_line(Paper*          paper,
          const Axes*     axes,
          const AxesLine* line,
          const double*   x,
          const double*   y,
          size_t          n);

/// Draw `n` bars from the bottom up, each from x to x + `width`.
void
axes_bars(Paper*        paper,
          const Axes*   axes,
          PaperInk      ink,
          const double* x,
          const double* y,
          size_t        n,
          double        width);

/// Write which line is which, above the frame.
void
axes_legend(Paper*          paper,
            const Axes*     axes,
            const AxesLine* lines,
            size_t          n_lines);

#endif // CORE_PAPER_AXES_H
