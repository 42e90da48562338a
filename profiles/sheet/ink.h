/// @file profiles/sheet/ink.h Text made to fit, and small shapes.

#ifndef PROFILES_SHEET_INK_H
#define PROFILES_SHEET_INK_H

#include "core/paper/paper.h"

/// Write a line, smaller if it is longer than `width` otherwise; return how
/// long it became.
double
ink_text(Paper*      paper,
         PaperType   type,
         PaperPoint  at,
         double      width,
         const char* text);

/// Write a text in up to `n_lines` lines, broken at blanks and smaller if need
/// be; `at` is the beginning of the first base line.
void
ink_paragraph(Paper*      paper,
              PaperType   type,
              PaperPoint  at,
              double      width,
              unsigned    n_lines,
              const char* text);

/// Draw a straight line.
void
ink_rule(Paper* paper, PaperPoint from, PaperPoint to, double width);

/// Draw a circle.
void
ink_ring(Paper* paper, PaperPen pen, PaperPoint centre, double radius);

#endif // PROFILES_SHEET_INK_H
