#include "core/paper/signs.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

enum {
  ARC_STEPS       = 8, ///< From one point of a curve to the next
  STROKE_CAPACITY = 20,
};

static const double full_turn = 6.283185307179586;

/// A point of a stroke, in spaces from its origin, up and right; and how wide
/// the stroke is there.
typedef struct {
  double x;
  double y;
  double width;
} Nib;

/// A curve through four points at equal distances in time, between the middle
/// two (Catmull & Rom 1974).
static double
between(const double a,
        const double b,
        const double c,
        const double d,
        const double t)
{
  return 0.5 *
         (2.0 * b + (c - a) * t + (2.0 * a - 5.0 * b + 4.0 * c - d) * t * t +
          (3.0 * b - a - 3.0 * c + d) * t * t * t);
}

static Nib
nib_at(const Nib* const nibs, const size_t n, const double place)
{
  const size_t last = n - 1;
  const size_t i    = place >= (double)last ? last - 1 : (size_t)place;
  const double t    = place - (double)i;
  const Nib*   a    = &nibs[i > 0 ? i - 1 : 0];
  const Nib*   b    = &nibs[i];
  const Nib*   c    = &nibs[i + 1];
  const Nib*   d    = &nibs[i + 2 <= last ? i + 2 : last];
  return (Nib){between(a->x, b->x, c->x, d->x, t),
               between(a->y, b->y, c->y, d->y, t),
               b->width + (c->width - b->width) * t};
}

/// Draw a stroke of changing width along a smooth curve.
static void
draw_stroke(Paper* const     paper,
            const PaperPoint origin,
            const double     space,
            const Nib* const nibs,
            const size_t     n)
{
  PaperPoint outline[2 * (STROKE_CAPACITY * ARC_STEPS + 1)];
  assert(n >= 2 && n <= STROKE_CAPACITY);
  const size_t n_steps = (n - 1) * ARC_STEPS;
  for (size_t i = 0; i <= n_steps; ++i) {
    const double place  = (double)i / ARC_STEPS;
    const Nib    here   = nib_at(nibs, n, place);
    const Nib    before = nib_at(nibs, n, fmax(place - 0.05, 0.0));
    const Nib    after  = nib_at(nibs, n, fmin(place + 0.05, (double)(n - 1)));
    const double dx     = after.x - before.x;
    const double dy     = after.y - before.y;
    const double length = fmax(hypot(dx, dy), 1e-9);
    const double over   = here.width / 2.0 / length;
    outline[i]          = (PaperPoint){origin.x + space * (here.x - dy * over),
                                       origin.y - space * (here.y + dx * over)};
    outline[2 * n_steps + 1 - i] =
      (PaperPoint){origin.x + space * (here.x + dy * over),
                   origin.y - space * (here.y - dx * over)};
  }
  paper_area(paper, INK_BLACK, outline, 2 * n_steps + 2);
}

#define DRAW_STROKE(paper, origin, space, nibs)                                \
  draw_stroke(paper, origin, space, nibs, sizeof(nibs) / sizeof(*(nibs)))

/// Return a point so many spaces right of and above another.
static PaperPoint
off(const PaperPoint at, const double space, const double x, const double y)
{
  return (PaperPoint){at.x + space * x, at.y - space * y};
}

void
sign_thin_line(Paper* const     paper,
               const PaperPoint from,
               const PaperPoint to,
               const double     space)
{
  const PaperPoint ends[] = {from, to};
  paper_line(paper, (PaperPen){.width = 0.13 * space}, ends, 2);
}

void
sign_head(Paper* const     paper,
          const PaperPoint centre,
          const double     space,
          const bool       is_open)
{
  enum { N_POINTS = 33 };
  static const double slant = 0.42; // Radians
  PaperPoint          outline[N_POINTS];
  const double        broad = is_open ? 0.55 : 0.64;
  const double        high  = is_open ? 0.34 : 0.43;
  for (unsigned i = 0; i < N_POINTS; ++i) {
    const double turn = full_turn * i / (N_POINTS - 1);
    const double x    = broad * cos(turn);
    const double y    = high * sin(turn);
    outline[i]        = off(centre,
                     space,
                     x * cos(slant) - y * sin(slant),
                     x * sin(slant) + y * cos(slant));
  }
  if (is_open) {
    paper_line(paper, (PaperPen){.width = 0.2 * space}, outline, N_POINTS);
  } else {
    paper_area(paper, INK_BLACK, outline, N_POINTS);
  }
}

void
sign_dot(Paper* const paper, const PaperPoint centre, const double space)
{
  paper_disc(paper, INK_BLACK, centre, 0.2 * space);
}

void
sign_treble_clef(Paper* const paper, const PaperPoint at, const double space)
{
  static const Nib curl[] = {
    {0.12, -0.42, 0.08},
    {-0.38, -0.12, 0.16},
    {-0.28, 0.42, 0.26},
    {0.25, 0.66, 0.30},
    {0.80, 0.25, 0.34},
    {0.82, -0.45, 0.32},
    {0.35, -1.02, 0.16},
    {-0.40, -1.00, 0.20},
    {-1.05, -0.45, 0.36},
    {-1.12, 0.45, 0.42},
    {-0.62, 1.40, 0.34},
    {0.10, 2.20, 0.22},
    {0.52, 3.05, 0.26},
    {0.52, 3.85, 0.24},
    {0.28, 4.32, 0.08},
  };
  static const Nib stem[] = {
    {0.30, 4.32, 0.06},
    {-0.05, 3.70, 0.16},
    {-0.12, 2.90, 0.20},
    {0.05, 1.60, 0.17},
    {0.30, 0.00, 0.14},
    {0.48, -1.30, 0.14},
    {0.46, -2.05, 0.16},
    {0.05, -2.55, 0.12},
    {-0.42, -2.45, 0.10},
    {-0.62, -2.10, 0.10},
  };
  const PaperPoint origin = off(at, space, 1.35, 0.0);
  DRAW_STROKE(paper, origin, space, curl);
  DRAW_STROKE(paper, origin, space, stem);
  paper_disc(paper, INK_BLACK, off(origin, space, -0.36, -2.05), 0.32 * space);
}

// Accidentals

static void
draw_bar(Paper* const     paper,
         const PaperPoint at,
         const double     space,
         const double     width,
         const PaperPoint from,
         const PaperPoint to)
{
  const PaperPoint ends[] = {off(at, space, from.x, from.y),
                             off(at, space, to.x, to.y)};
  paper_line(paper, (PaperPen){.width = width * space}, ends, 2);
}

static void
draw_sharp(Paper* const paper, const PaperPoint at, const double space)
{
  for (double side = -1.0; side <= 1.0; side += 2.0) {
    const double x = 0.19 * side;
    draw_bar(paper,
             at,
             space,
             0.11,
             (PaperPoint){x, -1.35 + 0.1 * side},
             (PaperPoint){x, 1.25 + 0.1 * side});
    const double y = 0.45 * side;
    draw_bar(paper,
             at,
             space,
             0.26,
             (PaperPoint){-0.42, y - 0.14},
             (PaperPoint){0.42, y + 0.14});
  }
}

static void
draw_natural(Paper* const paper, const PaperPoint at, const double space)
{
  draw_bar(paper,
           at,
           space,
           0.11,
           (PaperPoint){-0.28, -0.6},
           (PaperPoint){-0.28, 1.35});
  draw_bar(
    paper, at, space, 0.11, (PaperPoint){0.28, -1.35}, (PaperPoint){0.28, 0.6});
  for (double side = -1.0; side <= 1.0; side += 2.0) {
    const double y = 0.45 * side;
    draw_bar(paper,
             at,
             space,
             0.24,
             (PaperPoint){-0.28, y - 0.08},
             (PaperPoint){0.28, y + 0.08});
  }
}

static void
draw_flat(Paper* const paper, const PaperPoint at, const double space)
{
  static const Nib bowl[] = {
    {-0.3, 0.28, 0.12},
    {0.02, 0.46, 0.22},
    {0.30, 0.26, 0.26},
    {0.14, -0.22, 0.16},
    {-0.32, -0.66, 0.08},
  };
  draw_bar(paper,
           at,
           space,
           0.11,
           (PaperPoint){-0.36, -0.68},
           (PaperPoint){-0.36, 1.75});
  DRAW_STROKE(paper, at, space, bowl);
}

static void
draw_cross(Paper* const paper, const PaperPoint at, const double space)
{
  for (double side = -1.0; side <= 1.0; side += 2.0) {
    draw_bar(paper,
             at,
             space,
             0.22,
             (PaperPoint){-0.4, -0.4 * side},
             (PaperPoint){0.4, 0.4 * side});
  }
}

/// How many signs stand side by side.
static int
signs_of(const int alter)
{
  return alter < 0 ? -alter : alter == 0 ? 1 : alter - alter / 2;
}

static const double accidental_step = 0.95; // From one to the next

void
sign_accidental(Paper* const     paper,
                const PaperPoint at,
                const double     space,
                const int        alter)
{
  const int n = signs_of(alter);
  for (int i = 0; i < n; ++i) {
    const PaperPoint centre = off(at, space, -accidental_step * (i + 0.5), 0.0);
    if (alter < 0) {
      draw_flat(paper, centre, space);
    } else if (alter == 0) {
      draw_natural(paper, centre, space);
    } else if (alter - 2 * i >= 2) {
      draw_cross(paper, centre, space);
    } else {
      draw_sharp(paper, centre, space);
    }
  }
}

// Rests and what hangs on notes

static void
draw_hook(Paper* const paper, const PaperPoint at, const double space)
{
  static const Nib hook[] = {
    {-0.38, 0.14, 0.10},
    {-0.1, 0.08, 0.16},
    {0.22, 0.26, 0.13},
    {0.40, 0.62, 0.11},
  };
  paper_disc(paper, INK_BLACK, off(at, space, -0.34, 0.36), 0.25 * space);
  DRAW_STROKE(paper, at, space, hook);
}

static void
draw_quarter_rest(Paper* const paper, const PaperPoint at, const double space)
{
  static const Nib zigzag[] = {
    {-0.28, 1.45, 0.08},
    {0.0, 1.05, 0.24},
    {0.22, 0.72, 0.30},
    {-0.02, 0.28, 0.42},
    {-0.20, 0.06, 0.34},
    {0.06, -0.32, 0.26},
    {0.36, -0.72, 0.10},
  };
  static const Nib curl[] = {
    {0.36, -0.72, 0.10},
    {-0.02, -0.62, 0.26},
    {-0.32, -0.80, 0.28},
    {-0.24, -1.12, 0.22},
    {0.06, -1.48, 0.06},
  };
  DRAW_STROKE(paper, at, space, zigzag);
  DRAW_STROKE(paper, at, space, curl);
}

void
sign_rest(Paper* const     paper,
          const PaperPoint at,
          const double     space,
          const SignRest   rest)
{
  const PaperPoint middle = off(at, space, 0.6, 0.0);
  switch (rest) {
    case SIGN_REST_WHOLE:
    case SIGN_REST_HALF:
      paper_box(paper,
                INK_BLACK,
                off(at, space, 0.0, rest == SIGN_REST_HALF ? 0.55 : 0.0),
                1.2 * space,
                0.55 * space);
      break;
    case SIGN_REST_QUARTER:
      draw_quarter_rest(paper, middle, space);
      break;
    case SIGN_REST_EIGHTH:
    case SIGN_REST_SIXTEENTH:
      draw_hook(paper, middle, space);
      if (rest == SIGN_REST_SIXTEENTH) {
        draw_hook(paper, off(middle, space, -0.22, -0.9), space);
      }
      draw_bar(paper,
               middle,
               space,
               0.12,
               (PaperPoint){0.4, 0.62},
               (PaperPoint){rest == SIGN_REST_EIGHTH ? 0.0 : -0.22,
                            rest == SIGN_REST_EIGHTH ? -1.0 : -1.9});
      break;
  }
}

void
sign_flags(Paper* const     paper,
           const PaperPoint at,
           const double     space,
           const unsigned   n_flags)
{
  static const Nib flag[] = {
    {0.0, -0.15, 0.36},
    {0.32, -0.80, 0.28},
    {0.82, -1.50, 0.22},
    {0.86, -2.10, 0.14},
    {0.62, -2.75, 0.05},
  };
  for (unsigned i = 0; i < n_flags; ++i) {
    DRAW_STROKE(paper, off(at, space, 0.0, -0.85 * i), space, flag);
  }
}

void
sign_tie(Paper* const     paper,
         const PaperPoint from,
         const PaperPoint to,
         const double     space)
{
  const double across = (to.x - from.x) / space;
  const Nib    tie[]  = {
        {0.0, 0.0, 0.06},
        {0.25 * across, -0.42, 0.16},
        {0.5 * across, -0.55, 0.22},
        {0.75 * across, -0.42, 0.16},
        {across, 0.0, 0.06},
  };
  DRAW_STROKE(paper, from, space, tie);
}

void
sign_repeat_bar(Paper* const paper, const PaperPoint centre, const double space)
{
  const PaperPoint slash[] = {off(centre, space, -1.15, -1.0),
                              off(centre, space, -0.55, -1.0),
                              off(centre, space, 1.15, 1.0),
                              off(centre, space, 0.55, 1.0)};
  paper_area(paper, INK_BLACK, slash, 4);
  paper_disc(paper, INK_BLACK, off(centre, space, -0.85, 0.45), 0.24 * space);
  paper_disc(paper, INK_BLACK, off(centre, space, 0.85, -0.45), 0.24 * space);
}
