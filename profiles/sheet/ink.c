#include "profiles/sheet/ink.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum { LINE_CAPACITY = 512 };

static const double line_height = 1.3;  // Of the size of letters
static const double smaller     = 0.92; // A step down in size

double
ink_text(Paper* const      paper,
         const PaperType   type,
         const PaperPoint  at,
         const double      width,
         const char* const text)
{
  PaperType    fitted = type;
  const double wish   = paper_text_width(paper, type, text);
  if (wish > width) {
    fitted.size *= width / wish;
  }
  paper_text(paper, fitted, at, text);
  return fmin(wish, width);
}

/// Return how many bytes of a text go on a line: up to a blank, or all.
static size_t
line_length(Paper* const      paper,
            const PaperType   type,
            const double      width,
            const char* const text)
{
  size_t fits = strcspn(text, " ");
  for (size_t end = fits;; ++end) {
    char line[LINE_CAPACITY];
    end += strcspn(text + end, " ");
    (void)snprintf(line, sizeof(line), "%.*s", (int)end, text);
    if (paper_text_width(paper, type, line) > width) {
      return fits;
    }
    fits = end;
    if (!text[end]) {
      return fits;
    }
  }
}

/// Break a text into lines and write them if `writes`; return how many.
static unsigned
break_text(Paper* const     paper,
           const PaperType  type,
           const PaperPoint at,
           const double     width,
           const char*      text,
           const bool       writes)
{
  unsigned n = 0;
  while (*text) {
    char         line[LINE_CAPACITY];
    const size_t length = line_length(paper, type, width, text);
    (void)snprintf(line, sizeof(line), "%.*s", (int)length, text);
    if (writes) {
      const double y = at.y + line_height * type.size * n;
      (void)ink_text(paper, type, (PaperPoint){at.x, y}, width, line);
    }
    text += length + strspn(text + length, " ");
    ++n;
  }
  return n;
}

void
ink_paragraph(Paper* const      paper,
              const PaperType   type,
              const PaperPoint  at,
              const double      width,
              const unsigned    n_lines,
              const char* const text)
{
  PaperType fitted = type;
  while (break_text(paper, fitted, at, width, text, false) > n_lines) {
    fitted.size *= smaller;
  }
  (void)break_text(paper, fitted, at, width, text, true);
}

void
ink_rule(Paper* const     paper,
         const PaperPoint from,
         const PaperPoint to,
         const double     width)
{
  const PaperPoint ends[] = {from, to};
  paper_line(paper, (PaperPen){.width = width}, ends, 2);
}

void
ink_ring(Paper* const     paper,
         const PaperPen   pen,
         const PaperPoint centre,
         const double     radius)
{
  enum { N_POINTS = 25 };
  PaperPoint points[N_POINTS];
  for (unsigned i = 0; i < N_POINTS; ++i) {
    const double turn = 6.283185307179586 * i / (N_POINTS - 1);
    points[i]         = (PaperPoint){centre.x + radius * cos(turn),
                                     centre.y + radius * sin(turn)};
  }
  paper_line(paper, pen, points, N_POINTS);
}
