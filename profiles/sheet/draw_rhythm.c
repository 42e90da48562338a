#include "profiles/sheet/draw.h"

#include "core/paper/signs.h"
#include "profiles/sheet/ink.h"

#include <stdio.h>

// By eye; points, and spaces where it says so
static const double space       = 6.0;
static const double line_y      = 38.0;
static const double stem_length = 3.6;  // Spaces
static const double stem_x      = 0.53; // ... right of a head's middle
static const double beam_width  = 0.55;
static const double beam_step   = 0.85;
static const double meter_width = 26.0;
static const double bar_before  = 14.0; // From a bar's line to its first note
static const double bar_height  = 1.8;  // Spaces, up and down

static const double number_above = 20.0;

/// The line on paper.
typedef struct {
  Paper*             paper;
  const SheetRhythm* rhythm;
  Meter              meter;
  double             left; ///< Of the first bar
  double             y;
  double             bar_width;
} Line;

static double
place_of(const Line* const line, const Tick tick)
{
  const Tick   bar    = meter_bar_ticks(line->meter);
  const double inside = line->bar_width - bar_before;
  return line->left + line->bar_width * (double)(tick / bar) + bar_before +
         inside * (double)(tick % bar) / (double)bar;
}

static unsigned
flags_of(const SheetMark* const mark)
{
  return mark->length >= TICKS_PER_QUARTER       ? 0
         : mark->length >= TICKS_PER_QUARTER / 3 ? 1
                                                 : 2;
}

static bool
is_dotted(const SheetMark* const mark)
{
  return mark->length == TICKS_PER_QUARTER * 3 / 2;
}

static SignRest
rest_of(const SheetMark* const mark)
{
  return mark->length >= 2 * TICKS_PER_QUARTER ? SIGN_REST_HALF
         : mark->length >= TICKS_PER_QUARTER   ? SIGN_REST_QUARTER
         : flags_of(mark) == 1                 ? SIGN_REST_EIGHTH
                                               : SIGN_REST_SIXTEENTH;
}

static double
stem_of(const Line* const line, const unsigned mark)
{
  return place_of(line, line->rhythm->marks[mark].tick) + stem_x * space;
}

static double
stem_top(const Line* const line)
{
  return line->y - stem_length * space;
}

static void
draw_head(const Line* const line, const unsigned index)
{
  const SheetMark* const mark = &line->rhythm->marks[index];
  const double           x    = place_of(line, mark->tick);
  if (mark->is_rest) {
    sign_rest(line->paper,
              (PaperPoint){x - 0.6 * space, line->y},
              space,
              rest_of(mark));
  } else {
    sign_head(line->paper,
              (PaperPoint){x, line->y},
              space,
              mark->length >= 2 * TICKS_PER_QUARTER);
    const double at = stem_of(line, index);
    sign_thin_line(line->paper,
                   (PaperPoint){at, line->y - 0.2 * space},
                   (PaperPoint){at, stem_top(line)},
                   space);
  }
  if (is_dotted(mark)) {
    sign_dot(line->paper,
             (PaperPoint){x + 1.25 * space, line->y - 0.5 * space},
             space);
  }
  if (mark->ties_on && index + 1 < line->rhythm->n_marks) {
    const double to = place_of(line, line->rhythm->marks[index + 1].tick);
    const double y  = line->y + 0.75 * space;
    sign_tie(line->paper,
             (PaperPoint){x + 0.3 * space, y},
             (PaperPoint){to - 0.3 * space, y},
             space);
  }
}

// Beams

static void
draw_beam(const Line* const line,
          const unsigned    level,
          const double      from,
          const double      to)
{
  paper_box(line->paper,
            INK_BLACK,
            (PaperPoint){from - 0.06 * space,
                         stem_top(line) + beam_step * space * level},
            to - from + 0.12 * space,
            beam_width * space);
}

/// Return the end of the notes from `first` on that one beam joins: shorter
/// than a quarter, within one beat.
static unsigned
group_end(const Line* const line, const unsigned first)
{
  const SheetMark* const marks = line->rhythm->marks;
  const Tick             beat  = meter_beat_ticks(line->meter);
  unsigned               end   = first;
  while (end < line->rhythm->n_marks && !marks[end].is_rest &&
         flags_of(&marks[end]) &&
         marks[end].tick / beat == marks[first].tick / beat) {
    ++end;
  }
  return end;
}

static void
draw_group(const Line* const line, const unsigned first, const unsigned end)
{
  const SheetMark* const marks = line->rhythm->marks;
  if (end - first == 1) {
    sign_flags(line->paper,
               (PaperPoint){stem_of(line, first), stem_top(line)},
               space,
               flags_of(&marks[first]));
    return;
  }
  draw_beam(line, 0, stem_of(line, first), stem_of(line, end - 1));
  for (unsigned i = first; i + 1 < end; ++i) {
    if (flags_of(&marks[i]) == 2 && flags_of(&marks[i + 1]) == 2) {
      draw_beam(line, 1, stem_of(line, i), stem_of(line, i + 1));
    }
  }
  if (marks[first].length == TICKS_PER_QUARTER / 3) {
    const double x = (stem_of(line, first) + stem_of(line, end - 1)) / 2.0;
    paper_text(line->paper,
               (PaperType){.size = 8.0, .align = PAPER_CENTRE, .is_bold = true},
               (PaperPoint){x, stem_top(line) - 3.0},
               "3");
  }
}

static void
draw_notes(const Line* const line)
{
  const unsigned n = line->rhythm->n_marks;
  for (unsigned i = 0; i < n; ++i) {
    draw_head(line, i);
  }
  for (unsigned i = 0; i < n;) {
    const unsigned end = group_end(line, i);
    if (end > i) {
      draw_group(line, i, end);
    }
    i = end > i ? end : i + 1;
  }
}

// The line itself

static void
draw_bar_line(const Line* const line, const double x, const double width)
{
  ink_rule(line->paper,
           (PaperPoint){x, line->y - bar_height * space},
           (PaperPoint){x, line->y + bar_height * space},
           width);
}

static void
draw_meter(const Line* const line, const double x)
{
  const PaperType type = {.size = 15.0, .align = PAPER_CENTRE, .is_bold = true};
  char            number[4];
  (void)snprintf(number, sizeof(number), "%u", line->meter.numerator % 100U);
  paper_text(line->paper, type, (PaperPoint){x, line->y - 1.0}, number);
  (void)snprintf(number, sizeof(number), "%u", line->meter.denominator % 100U);
  paper_text(line->paper, type, (PaperPoint){x, line->y + 12.5}, number);
}

void
draw_rhythm(Paper* const            paper,
            const Sheet* const      sheet,
            const SheetBlock* const block)
{
  const Line line = {
    .paper     = paper,
    .rhythm    = &sheet->rhythms[block->index],
    .meter     = sheet->request.chart->meter,
    .left      = block->corner.x + meter_width,
    .y         = block->corner.y + line_y,
    .bar_width = (block->width - meter_width - 3.0) / SHEET_RHYTHM_BARS,
  };
  const double right = line.left + line.bar_width * SHEET_RHYTHM_BARS;
  draw_meter(&line, block->corner.x + meter_width / 2.0);
  if (sheet->n_rhythms > 1) {
    char number[16];
    (void)snprintf(number, sizeof(number), "%u", block->index + 1);
    paper_text(paper,
               (PaperType){.size = 8.0},
               (PaperPoint){block->corner.x, line.y - number_above},
               number);
  }
  sign_thin_line(
    paper, (PaperPoint){line.left, line.y}, (PaperPoint){right, line.y}, space);
  for (unsigned i = 0; i < SHEET_RHYTHM_BARS; ++i) {
    draw_bar_line(&line, line.left + line.bar_width * i, 0.9);
  }
  draw_bar_line(&line, right - 2.6, 0.9);
  draw_bar_line(&line, right + 1.0, 2.4);
  draw_notes(&line);
}
