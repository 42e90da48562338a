#include "responder/lesson/progress_view.h"

#include "core/paper/axes.h"
#include "profiles/journal/day.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum {
  COLUMNS     = 2,
  ROWS        = 3,
  SPANS_DRAWN = 70,
  TICKS_MOST  = 5,
  LEAST_SPANS = 7, ///< Room for so many, however few there are
};

// By eye, points
static const double page_width  = 780.0;
static const double page_height = 640.0;
static const double page_margin = 24.0;
static const double head_height = 46.0;
static const double foot_height = 16.0;
static const double gutter      = 18.0;
static const double minute_ms   = 60000.0;

/// What is drawn, and the numbers of one line at a time.
typedef struct {
  Paper*        paper;
  ProgressSpans spans;
  double        days[PROGRESS_SPANS];
  double        values[PROGRESS_SPANS];
  double        span_days; ///< Width of a span
  double        target;    ///< Share of turns meant to come off, in per cent
} Drawing;

// Labels

/// The day on which a span begins; the middle of it stands on the axis.
static const char*
label_day(const double value, char text[AXES_TEXT_CAPACITY])
{
  char day[DAY_TEXT_CAPACITY];
  (void)snprintf(text, AXES_TEXT_CAPACITY, "%s", day_text((int32_t)value, day));
  return text;
}

static const char*
label_week(const double value, char text[AXES_TEXT_CAPACITY])
{
  return label_day(value - 3.0, text);
}

static const char*
label_month(const double value, char text[AXES_TEXT_CAPACITY])
{
  char day[DAY_TEXT_CAPACITY];
  (void)snprintf(
    text, AXES_TEXT_CAPACITY, "%.7s", day_text((int32_t)value, day));
  return text;
}

static const char*
label_number(const double value, char text[AXES_TEXT_CAPACITY])
{
  (void)snprintf(text, AXES_TEXT_CAPACITY, "%.10g", value);
  return text;
}

// Values

/// A number of a span, and what it is drawn in.
typedef struct {
  size_t offset; ///< Of a double in ProgressSpan
  double factor;
} SpanValue;

static const SpanValue landed  = {offsetof(ProgressSpan, landed), 100.0};
static const SpanValue success = {offsetof(ProgressSpan, success), 100.0};
static const SpanValue spread  = {offsetof(ProgressSpan, spread_ms), 1.0};
static const SpanValue space   = {offsetof(ProgressSpan, space), 100.0};
static const SpanValue swing   = {offsetof(ProgressSpan, swing), 1.0};

static void
take_values(Drawing* const drawing, const SpanValue value)
{
  for (size_t i = 0; i < drawing->spans.n_spans; ++i) {
    const char* const span = (const char*)&drawing->spans.spans[i];
    double            number;
    memcpy(&number, span + value.offset, sizeof(number));
    drawing->values[i] = value.factor * number;
  }
}

static void
take_rungs(Drawing* const drawing, const unsigned dimension)
{
  for (size_t i = 0; i < drawing->spans.n_spans; ++i) {
    const ProgressSpan* const span = &drawing->spans.spans[i];
    drawing->values[i] =
      span->has_stand ? (double)span->rung.level[dimension] : NAN;
  }
}

static double
greatest(const Drawing* const drawing, double most)
{
  for (size_t i = 0; i < drawing->spans.n_spans; ++i) {
    most = fmax(most, drawing->values[i]); // Passes over NAN
  }
  return most;
}

static double
smallest(const Drawing* const drawing, double least)
{
  for (size_t i = 0; i < drawing->spans.n_spans; ++i) {
    least = fmin(least, drawing->values[i]);
  }
  return least;
}

// Plots

/// Put ticks under some of the spans, the first and the last among them.
static void
place_ticks(const Drawing* const drawing, Axes* const axes)
{
  const size_t n_spans = drawing->spans.n_spans;
  const size_t n       = n_spans < TICKS_MOST ? n_spans : TICKS_MOST;
  axes->n_places       = (unsigned)n;
  for (size_t i = 0; i < n; ++i) {
    axes->x_places[i] = drawing->days[n > 1 ? i * (n_spans - 1) / (n - 1) : 0];
  }
}

/// Return an empty plot for a place on the page.
static Axes
axes_at(const Drawing* const drawing,
        const unsigned       place,
        const char* const    title,
        const char* const    y_name,
        const double         least,
        const double         most)
{
  static const AxesLabel   labels[] = {label_day, label_week, label_month};
  static const char* const names[]  = {"day", "week, from its Monday", "month"};
  const ProgressGrain      grain    = drawing->spans.grain;
  const size_t             last     = drawing->spans.n_spans - 1;
  const double             width =
    (page_width - 2.0 * page_margin - (COLUMNS - 1) * gutter) / COLUMNS;
  const double height = (page_height - 2.0 * page_margin - head_height -
                         foot_height - (ROWS - 1) * gutter) /
                        ROWS;
  const double step = axes_step(most - least, 5);
  // As wide as some spans at least: a single one does not fill a plot
  const double days       = drawing->days[last] - drawing->days[0];
  const double least_days = LEAST_SPANS * drawing->span_days;
  const double beside =
    days < least_days ? (least_days - days) / 2.0 : drawing->span_days;
  Axes axes = {
    .title   = title,
    .y_name  = y_name,
    .x_name  = names[grain],
    .corner  = {page_margin + place % COLUMNS * (width + gutter),
                page_margin + head_height + place / COLUMNS * (height + gutter)},
    .width   = width,
    .height  = height,
    .x_least = drawing->days[0] - beside,
    .x_most  = drawing->days[last] + beside,
    .y_least = least,
    .y_most  = least + ceil((most - least) / step) * step,
    .y_step  = step,
    .x_label = labels[grain],
    .y_label = label_number,
  };
  place_ticks(drawing, &axes);
  return axes;
}

static void
draw_minutes(Drawing* const drawing, const unsigned place)
{
  static const char* const names[] = {
    "minutes a day", "minutes a week", "minutes a month"};
  double begins[PROGRESS_SPANS];
  for (size_t i = 0; i < drawing->spans.n_spans; ++i) {
    begins[i]          = drawing->days[i] - drawing->span_days / 2.0;
    drawing->values[i] = (double)drawing->spans.spans[i].length_ms / minute_ms;
  }
  const Axes axes = axes_at(drawing,
                            place,
                            "Practice",
                            names[drawing->spans.grain],
                            0.0,
                            greatest(drawing, 10.0));
  axes_draw(drawing->paper, &axes);
  axes_bars(drawing->paper,
            &axes,
            INK_BLUE,
            begins,
            drawing->values,
            drawing->spans.n_spans,
            drawing->span_days);
}

static void
draw_rungs(Drawing* const drawing, const unsigned place)
{
  static const AxesLine lines[N_DIMENSIONS] = {
    {"notes", INK_BLUE, PAPER_SOLID, AXES_DISC, true, 0.0},
    {"rhythm", INK_VERMILION, PAPER_DASHED, AXES_SQUARE, true, 1.6},
    {"shape", INK_GREEN, PAPER_DASH_DOT, AXES_TRIANGLE, true, 3.2},
    {"ornament", INK_PURPLE, PAPER_DOTTED, AXES_DIAMOND, true, 4.8},
  };
  Axes axes = axes_at(drawing, place, "The ladder", "rung", 0.5, N_NOTES_RUNGS);
  axes.y_step = 1.0;
  axes.y_most = N_NOTES_RUNGS + 0.9; // Room for what is lifted
  axes_draw(drawing->paper, &axes);
  axes_legend(drawing->paper, &axes, lines, N_DIMENSIONS);
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    take_rungs(drawing, d);
    axes_line(drawing->paper,
              &axes,
              &lines[d],
              drawing->days,
              drawing->values,
              drawing->spans.n_spans);
  }
}

/// Draw a line of one value; what it is called stands in the title, too.
static void
draw_value(Drawing* const        drawing,
           const Axes* const     axes,
           const AxesLine* const line,
           const SpanValue       value)
{
  take_values(drawing, value);
  axes_line(drawing->paper,
            axes,
            line,
            drawing->days,
            drawing->values,
            drawing->spans.n_spans);
}

static void
draw_landing(Drawing* const drawing, const unsigned place)
{
  char target[AXES_TEXT_CAPACITY];
  (void)snprintf(target, sizeof(target), "aim: %.0f %%", drawing->target);
  const AxesLine lines[] = {
    {"on a chord tone", INK_BLUE, PAPER_SOLID, AXES_DISC, false, 0.0},
    {"came off*", INK_ORANGE, PAPER_DASHED, AXES_SQUARE, false, 0.0},
    {target, INK_GREY, PAPER_DOTTED, AXES_DIAMOND, false, 0.0},
  };
  const Axes axes =
    axes_at(drawing, place, "Landing", "% of turns", 0.0, 100.0);
  axes_draw(drawing->paper, &axes);
  axes_legend(drawing->paper, &axes, lines, 3);
  axes_line(drawing->paper,
            &axes,
            &lines[2],
            (const double[]){axes.x_least, axes.x_most},
            (const double[]){drawing->target, drawing->target},
            2);
  draw_value(drawing, &axes, &lines[0], landed);
  draw_value(drawing, &axes, &lines[1], success);
}

/// Draw a plot of one line, from `least` to `most` or further.
static void
draw_single(Drawing* const    drawing,
            const unsigned    place,
            const char* const title,
            const char* const y_name,
            const SpanValue   value,
            const double      least,
            const double      most)
{
  static const AxesLine line = {
    "", INK_GREEN, PAPER_SOLID, AXES_DISC, false, 0.0};
  take_values(drawing, value);
  const Axes axes = axes_at(drawing,
                            place,
                            title,
                            y_name,
                            floor(smallest(drawing, least)),
                            greatest(drawing, most));
  axes_draw(drawing->paper, &axes);
  draw_value(drawing, &axes, &line, value);
}

static void
draw_plots(Drawing* const drawing)
{
  draw_minutes(drawing, 0);
  draw_rungs(drawing, 1);
  draw_landing(drawing, 2);
  draw_single(drawing,
              3,
              "Timing: spread about the beat; lower is steadier",
              "milliseconds",
              spread,
              0.0,
              20.0);
  draw_single(
    drawing, 4, "Space: time at rest", "% of a turn", space, 0.0, 100.0);
  draw_single(
    drawing, 5, "Swing", "long to short (1 is even)", swing, 1.0, 2.0);
}

// The page

static void
draw_head(Paper* const paper, const ProgressView* const view)
{
  const Progress* const progress = &view->progress;
  const PaperType  title = {.ink = INK_BLACK, .size = 16.0, .is_bold = true};
  const PaperType  words = {.ink = INK_BLACK, .size = 10.0};
  const PaperPoint at    = {page_margin, page_margin + 14.0};
  char             first[DAY_TEXT_CAPACITY];
  char             day[DAY_TEXT_CAPACITY];
  char             text[160];
  const double     hours   = (double)progress->length_ms / minute_ms / 60.0;
  const bool       is_long = hours >= 2.0;
  paper_text(paper, title, at, view->who->learner.name);
  (void)snprintf(
    text,
    sizeof(text),
    "Practice from %s to %s: %u day%s, %.*f %s; %u in a row",
    day_text(progress->days ? progress->first_day : view->today, first),
    day_text(view->today, day),
    progress->days,
    progress->days == 1 ? "" : "s",
    is_long ? 1 : 0,
    is_long ? hours : 60.0 * hours,
    is_long ? "hours" : "min",
    progress->days_in_a_row);
  paper_text(paper, words, (PaperPoint){at.x, at.y + 16.0}, text);
}

static void
draw_foot(Paper* const paper)
{
  char text[256];
  (void)snprintf(text, sizeof(text), "* %s", progress_came_off());
  paper_text(paper,
             (PaperType){.ink = INK_BLACK, .size = 7.4},
             (PaperPoint){page_margin, page_height - page_margin},
             text);
}

static void
prepare(Drawing* const drawing, const ProgressView* const view)
{
  static const double  span_days[] = {1.0, 7.0, 30.0};
  ProgressSpans* const spans       = &drawing->spans;
  progress_spans(
    spans, &view->totals, progress_grain(&view->progress, SPANS_DRAWN));
  drawing->span_days = span_days[spans->grain];
  drawing->target    = 100.0 * view->who->learner.target_rate;
  for (size_t i = 0; i < spans->n_spans; ++i) {
    drawing->days[i] =
      spans->spans[i].first_day + floor(drawing->span_days / 2.0);
  }
}

Status
progress_draw(const ProgressView* const view,
              const char* const         path,
              Fault* const              fault)
{
  PaperKind kind;
  Drawing   drawing = {.paper = NULL};
  Status    status  = paper_kind(&kind, path, fault);
  if (status) {
    return status;
  }
  if (paper_open(&drawing.paper, kind, page_width, page_height)) {
    return fault_memory(fault, NULL);
  }
  draw_head(drawing.paper, view);
  prepare(&drawing, view);
  if (drawing.spans.n_spans) {
    draw_plots(&drawing);
    draw_foot(drawing.paper);
  }
  status = paper_save(drawing.paper, path, fault);
  paper_close(drawing.paper);
  return status;
}
