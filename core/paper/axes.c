#include "core/paper/axes.h"

#include <math.h>
#include <string.h>

// By eye, points
static const double margin_left   = 44.0;
static const double margin_right  = 12.0;
static const double margin_top    = 34.0;
static const double margin_bottom = 28.0;
static const double title_size    = 10.0;
static const double label_size    = 8.0;
static const double tick_length   = 3.0;
static const double mark_radius   = 2.2;
static const double sample_width  = 22.0; ///< Of a line in the legend

enum {
  MARKED_MOST = 40, ///< Points that each have a mark; more would hide the line
  PIECE_CAPACITY = 256,
};

static double
frame_width(const Axes* const axes)
{
  return axes->width - margin_left - margin_right;
}

static double
frame_height(const Axes* const axes)
{
  return axes->height - margin_top - margin_bottom;
}

static double
x_of(const Axes* const axes, const double value)
{
  const double share = (value - axes->x_least) / (axes->x_most - axes->x_least);
  return axes->corner.x + margin_left + share * frame_width(axes);
}

static double
y_of(const Axes* const axes, const double value)
{
  const double share = (value - axes->y_least) / (axes->y_most - axes->y_least);
  return axes->corner.y + margin_top + (1.0 - share) * frame_height(axes);
}

double
axes_step(const double range, const unsigned n_ticks)
{
  const double rough = range / n_ticks;
  const double power = pow(10.0, floor(log10(rough)));
  const double times = rough / power;
  return power * (times <= 1.0   ? 1.0
                  : times <= 2.0 ? 2.0
                  : times <= 5.0 ? 5.0
                                 : 10.0);
}

// The frame

static void
draw_segment(Paper* const     paper,
             const PaperInk   ink,
             const PaperPoint from,
             const PaperPoint to)
{
  const PaperPen   pen      = {.ink = ink, .width = 0.7};
  const PaperPoint points[] = {from, to};
  paper_line(paper, pen, points, 2);
}

static void
draw_y_ticks(Paper* const paper, const Axes* const axes)
{
  const PaperType type = {
    .ink = INK_BLACK, .align = PAPER_RIGHT, .size = label_size};
  const double left  = x_of(axes, axes->x_least);
  const double right = x_of(axes, axes->x_most);
  const double slack = axes->y_step / 1000.0; // Of the rounding of sums
  const double first =
    ceil((axes->y_least - slack) / axes->y_step) + 0.0; // Never -0
  for (double i = first; i * axes->y_step <= axes->y_most + slack; i += 1.0) {
    char         text[AXES_TEXT_CAPACITY];
    const double value = i * axes->y_step;
    const double y     = y_of(axes, value);
    draw_segment(
      paper, INK_PALE, (PaperPoint){left, y}, (PaperPoint){right, y});
    draw_segment(paper,
                 INK_GREY,
                 (PaperPoint){left - tick_length, y},
                 (PaperPoint){left, y});
    paper_text(paper,
               type,
               (PaperPoint){left - 2.0 * tick_length, y + label_size * 0.35},
               axes->y_label(value, text));
  }
}

void
axes_thin(const unsigned n,
          double         centres[],
          const double   widths[],
          const double   gap,
          bool           is_shown[])
{
  if (n < 2) {
    memset(is_shown, true, n * sizeof(*is_shown));
    return;
  }
  const unsigned last  = n - 1;
  const double   need  = (widths[0] + widths[last]) / 2.0 + gap;
  const double   lacks = need - (centres[last] - centres[0]);
  const double   aside = lacks > 0.0 ? lacks / 2.0 : 0.0;
  double         taken = -INFINITY; // Up to here
  centres[0] -= aside;
  centres[last] += aside;
  const double end = centres[last] - widths[last] / 2.0 - gap;
  for (unsigned i = 0; i < n; ++i) {
    const double half = widths[i] / 2.0;
    is_shown[i]       = i == 0 || i == last ||
                  (centres[i] - half >= taken && centres[i] + half <= end);
    taken = is_shown[i] ? centres[i] + half + gap : taken;
  }
}

static void
draw_x_ticks(Paper* const paper, const Axes* const axes)
{
  const PaperType type = {
    .ink = INK_BLACK, .align = PAPER_CENTRE, .size = label_size};
  const double bottom = y_of(axes, axes->y_least);
  char         texts[AXES_PLACES_MOST][AXES_TEXT_CAPACITY];
  double       centres[AXES_PLACES_MOST];
  double       widths[AXES_PLACES_MOST];
  bool         is_shown[AXES_PLACES_MOST] = {false};
  for (unsigned i = 0; i < axes->n_places; ++i) {
    centres[i] = x_of(axes, axes->x_places[i]);
    widths[i] =
      paper_text_width(paper, type, axes->x_label(axes->x_places[i], texts[i]));
    draw_segment(paper,
                 INK_GREY,
                 (PaperPoint){centres[i], bottom},
                 (PaperPoint){centres[i], bottom + tick_length});
  }
  axes_thin(axes->n_places, centres, widths, label_size, is_shown);
  for (unsigned i = 0; i < axes->n_places; ++i) {
    if (is_shown[i]) {
      paper_text(
        paper,
        type,
        (PaperPoint){centres[i], bottom + tick_length + 1.2 * label_size},
        texts[i]);
    }
  }
}

/// Name the axes: what goes up beside it, what goes right under its end.
static void
draw_names(Paper* const paper, const Axes* const axes)
{
  const double bottom = y_of(axes, axes->y_least);
  paper_text(paper,
             (PaperType){.ink     = INK_BLACK,
                         .align   = PAPER_CENTRE,
                         .size    = label_size,
                         .runs_up = true},
             (PaperPoint){axes->corner.x + label_size,
                          (bottom + y_of(axes, axes->y_most)) / 2.0},
             axes->y_name);
  paper_text(
    paper,
    (PaperType){.ink = INK_BLACK, .align = PAPER_RIGHT, .size = label_size},
    (PaperPoint){axes->corner.x + axes->width - margin_right,
                 bottom + tick_length + 2.4 * label_size},
    axes->x_name);
}

void
axes_draw(Paper* const paper, const Axes* const axes)
{
  const PaperType type = {
    .ink = INK_BLACK, .size = title_size, .is_bold = true};
  const double left   = x_of(axes, axes->x_least);
  const double right  = x_of(axes, axes->x_most);
  const double bottom = y_of(axes, axes->y_least);
  const double top    = y_of(axes, axes->y_most);
  paper_text(paper,
             type,
             (PaperPoint){axes->corner.x, axes->corner.y + title_size},
             axes->title);
  draw_y_ticks(paper, axes);
  draw_x_ticks(paper, axes);
  draw_names(paper, axes);
  draw_segment(
    paper, INK_GREY, (PaperPoint){left, top}, (PaperPoint){left, bottom});
  draw_segment(
    paper, INK_GREY, (PaperPoint){left, bottom}, (PaperPoint){right, bottom});
}

// Lines

static void
draw_mark(Paper* const     paper,
          const AxesMark   mark,
          const PaperInk   ink,
          const PaperPoint at)
{
  const double r = mark_radius;
  switch (mark) {
    case AXES_DISC:
      paper_disc(paper, ink, at, r);
      break;
    case AXES_SQUARE:
      paper_box(paper, ink, (PaperPoint){at.x - r, at.y - r}, 2 * r, 2 * r);
      break;
    case AXES_TRIANGLE: {
      const PaperPoint corners[] = {{at.x, at.y - 1.3 * r},
                                    {at.x + 1.3 * r, at.y + r},
                                    {at.x - 1.3 * r, at.y + r}};
      paper_area(paper, ink, corners, 3);
      break;
    }
    case AXES_DIAMOND: {
      const PaperPoint corners[] = {{at.x, at.y - 1.4 * r},
                                    {at.x + 1.4 * r, at.y},
                                    {at.x, at.y + 1.4 * r},
                                    {at.x - 1.4 * r, at.y}};
      paper_area(paper, ink, corners, 4);
      break;
    }
  }
}

static PaperPen
pen_of(const AxesLine* const line)
{
  return (PaperPen){line->ink, line->dash, 1.3};
}

/// Points of a line that hang together, yet to be drawn.
typedef struct {
  size_t     n;
  PaperPoint points[PIECE_CAPACITY];
} Piece;

/// Draw what hangs together in one go, so that its dashes run on.
static void
draw_piece(Paper* const paper, const AxesLine* const line, Piece* const piece)
{
  if (piece->n > 1) {
    paper_line(paper, pen_of(line), piece->points, piece->n);
  }
  piece->n = 0;
}

/// Add a point; a full piece is drawn, and the next begins where it ends.
static void
add_point(Paper* const          paper,
          const AxesLine* const line,
          Piece* const          piece,
          const PaperPoint      at)
{
  if (piece->n + 2 > PIECE_CAPACITY) {
    const PaperPoint last = piece->points[piece->n - 1];
    draw_piece(paper, line, piece);
    piece->points[piece->n++] = last;
  }
  if (piece->n && line->is_stepped) {
    const double level        = piece->points[piece->n - 1].y;
    piece->points[piece->n++] = (PaperPoint){at.x, level};
  }
  piece->points[piece->n++] = at;
}

void
axes_line(Paper* const          paper,
          const Axes* const     axes,
          const AxesLine* const line,
          const double* const   x,
          const double* const   y,
          const size_t          n)
{
  Piece piece = {.n = 0};
  for (size_t i = 0; i < n; ++i) {
    if (isnan(y[i])) {
      draw_piece(paper, line, &piece);
      continue;
    }
    const PaperPoint at = {x_of(axes, x[i]), y_of(axes, y[i]) - line->lift};
    // A point that stands alone is seen only by its mark
    if (n <= MARKED_MOST || !piece.n) {
      draw_mark(paper, line->mark, line->ink, at);
    }
    add_point(paper, line, &piece, at);
  }
  draw_piece(paper, line, &piece);
}

void
axes_bars(Paper* const        paper,
          const Axes* const   axes,
          const PaperInk      ink,
          const double* const x,
          const double* const y,
          const size_t        n,
          const double        width)
{
  const double bottom = y_of(axes, axes->y_least);
  for (size_t i = 0; i < n; ++i) {
    const double left  = x_of(axes, x[i]);
    const double right = x_of(axes, x[i] + width);
    const double top   = y_of(axes, y[i]);
    paper_box(
      paper, ink, (PaperPoint){left, top}, 0.9 * (right - left), bottom - top);
  }
}

void
axes_legend(Paper* const          paper,
            const Axes* const     axes,
            const AxesLine* const lines,
            const size_t          n_lines)
{
  const PaperType type = {.ink = INK_BLACK, .size = label_size};
  const double    base = axes->corner.y + title_size + 1.6 * label_size;
  const double    y    = base - 0.35 * label_size;
  double          x    = x_of(axes, axes->x_least);
  for (size_t i = 0; i < n_lines; ++i) {
    const PaperPoint ends[] = {{x, y}, {x + sample_width, y}};
    paper_line(paper, pen_of(&lines[i]), ends, 2);
    draw_mark(paper,
              lines[i].mark,
              lines[i].ink,
              (PaperPoint){x + sample_width / 2.0, y});
    x += sample_width + 4.0;
    paper_text(paper, type, (PaperPoint){x, base}, lines[i].name);
    x += paper_text_width(paper, type, lines[i].name) + 10.0;
  }
}
