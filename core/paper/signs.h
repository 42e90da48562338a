/// @file core/paper/signs.h Signs of musical notation, drawn by their outlines.
///
/// Sizes follow `space`, the distance between two lines of a staff, in points.
/// The shapes are our own, by eye.

#ifndef CORE_PAPER_SIGNS_H
#define CORE_PAPER_SIGNS_H

#include "core/paper/paper.h"

#include <stdbool.h>

typedef enum {
  SIGN_REST_WHOLE,
  SIGN_REST_HALF,
  SIGN_REST_QUARTER,
  SIGN_REST_EIGHTH,
  SIGN_REST_SIXTEENTH,
} SignRest;

/// Draw a line of a staff's weight.
void
sign_thin_line(Paper* paper, PaperPoint from, PaperPoint to, double space);

/// Draw a note's head.
void
sign_head(Paper* paper, PaperPoint centre, double space, bool is_open);

/// Draw a dot that makes a note or a rest longer by half.
void
sign_dot(Paper* paper, PaperPoint centre, double space);

/// Draw a treble clef; `at` lies on its line, the second from below, at the
/// left. It is about 2.7 spaces wide.
void
sign_treble_clef(Paper* paper, PaperPoint at, double space);

/// Draw an accidental: `alter` sharps (a double one as a cross), flats below 0,
/// a natural at 0. Its right edge and the height of its note are at `at`.
void
sign_accidental(Paper* paper, PaperPoint at, double space, int alter);

/// Draw a rest; `at` is in the middle of the staff, at the left.
void
sign_rest(Paper* paper, PaperPoint at, double space, SignRest rest);

/// Draw the flags of a stem that goes up to `at`, 1 or 2.
void
sign_flags(Paper* paper, PaperPoint at, double space, unsigned n_flags);

/// Draw a tie that hangs below its notes; it may end or begin at a bar's line.
void
sign_tie(Paper* paper, PaperPoint from, PaperPoint to, double space);

/// Draw the sign that says to play the bar before again.
void
sign_repeat_bar(Paper* paper, PaperPoint centre, double space);

#endif // CORE_PAPER_SIGNS_H
