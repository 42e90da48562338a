#include "profiles/sheet/pages.h"

#include "profiles/sheet/letters.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

// By eye, points
static const struct {
  double margin;
  double footer; ///< Kept free above the lower margin
  double gap;    ///< Between columns
  double heights[BLOCK_SCALE + 1];
} LOOK = {
  .margin  = 40.0,
  .footer  = 20.0,
  .gap     = 18.0,
  .heights = {[BLOCK_HEADER]    = 46.0,
              [BLOCK_TASK]      = 32.0,
              [BLOCK_GOAL]      = 13.0,
              [BLOCK_LONG_GOAL] = 25.0,
              [BLOCK_HEADING]   = 24.0,
              [BLOCK_FORM_ROW]  = 38.0,
              [BLOCK_RHYTHM]    = 54.0,
              [BLOCK_CHORD]     = 102.0,
              [BLOCK_SCALE]     = 90.0},
};

static const double symbol_size  = 8.0;  // The least that a chord is read at
static const double letter_width = 0.72; // Of bold letters, of their size
static const double bar_padding  = 8.0;
static const size_t goal_bytes   = 75; // That stand on a line

enum { CHORD_COLUMNS = 3, SCALE_COLUMNS = 2 };

/// Where the next block goes.
typedef struct {
  SheetPages* pages;
  double      y;
} Flow;

static double
line_width(const SheetPages* const pages)
{
  return pages->width - 2.0 * pages->margin;
}

static double
foot_of(const SheetPages* const pages)
{
  return pages->height - pages->margin - LOOK.footer;
}

/// Begin a page unless there is room for what comes.
static void
make_room(Flow* const flow, const double height)
{
  if (flow->y + height > foot_of(flow->pages)) {
    ++flow->pages->n_pages;
    flow->y = flow->pages->margin;
  }
}

static void
put(Flow* const     flow,
    const BlockKind kind,
    const unsigned  index,
    const double    x,
    const double    width)
{
  SheetPages* const pages = flow->pages;
  assert(pages->n_blocks < PAGES_BLOCK_CAPACITY);
  pages->blocks[pages->n_blocks++] = (SheetBlock){
    .kind   = kind,
    .index  = index,
    .page   = pages->n_pages - 1,
    .corner = {x, flow->y},
    .width  = width,
    .height = LOOK.heights[kind],
  };
}

/// Put a block of the whole width.
static void
put_line(Flow* const flow, const BlockKind kind, const unsigned index)
{
  make_room(flow, LOOK.heights[kind]);
  put(flow, kind, index, flow->pages->margin, line_width(flow->pages));
  flow->y += LOOK.heights[kind];
}

/// Put a heading with room for the first of what it heads.
static void
put_heading(Flow* const flow, const BlockKind kind)
{
  make_room(flow, LOOK.heights[BLOCK_HEADING] + LOOK.heights[kind]);
  put_line(flow, BLOCK_HEADING, kind);
}

/// Put `n` blocks in columns, row by row.
static void
put_columns(Flow* const     flow,
            const BlockKind kind,
            const unsigned  n,
            const unsigned  columns)
{
  const double whole = line_width(flow->pages);
  const double width = (whole - LOOK.gap * (columns - 1)) / columns;
  for (unsigned i = 0; i < n; ++i) {
    const unsigned column = i % columns;
    if (column == 0) {
      make_room(flow, LOOK.heights[kind]);
    }
    put(
      flow, kind, i, flow->pages->margin + column * (width + LOOK.gap), width);
    if (column + 1 == columns || i + 1 == n) {
      flow->y += LOOK.heights[kind];
    }
  }
}

static void
put_goals(Flow* const flow, const SheetRequest* const request)
{
  for (unsigned i = 0; i < request->n_goals; ++i) {
    const bool is_long = strlen(request->goals[i]) > goal_bytes;
    put_line(flow, is_long ? BLOCK_LONG_GOAL : BLOCK_GOAL, i);
  }
}

static void
put_rhythms(Flow* const flow, const Sheet* const sheet)
{
  put_heading(flow, BLOCK_RHYTHM);
  for (unsigned i = 0; i < sheet->n_rhythms; ++i) {
    put_line(flow, BLOCK_RHYTHM, i);
  }
}

// Rows of the form

static unsigned
letters_of(const Chord* const chord)
{
  char     symbol[LETTERS_CAPACITY];
  unsigned n = 0;
  for (const char* at = letters_chord(chord, symbol); *at; ++at) {
    n += ((unsigned char)*at & 0xC0U) != 0x80U; // What follows in UTF-8
  }
  return n;
}

/// Whether every chord can be read in its part of a bar so wide.
static bool
bars_hold(const Chart* const chart, const double width)
{
  const Tick bar = meter_bar_ticks(chart->meter);
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const Tick   tick = chart->changes[i].tick;
    const Tick   end  = i + 1 < chart->n_changes ? chart->changes[i + 1].tick
                                                 : chart_ticks(chart);
    const double room =
      (width - bar_padding) * (double)(end - tick) / (double)bar;
    if (letters_of(&chart->changes[i].chord) * letter_width * symbol_size >
        room) {
      return false;
    }
  }
  return true;
}

static unsigned
find_bars_per_row(const SheetPages* const pages, const Chart* const chart)
{
  const double width = line_width(pages) - PAGES_NUMBER_WIDTH;
  unsigned     n     = 4;
  while (n > 1 && !bars_hold(chart, width / n)) {
    n /= 2;
  }
  return n;
}

static PaperPoint
page_size(const SheetSize size)
{
  return size == SHEET_A4 ? (PaperPoint){595.28, 841.89}
                          : (PaperPoint){612.0, 792.0};
}

void
sheet_pages(SheetPages* const  pages,
            const Sheet* const sheet,
            const SheetSize    size)
{
  const Chart* const chart = sheet->request.chart;
  const PaperPoint   page  = page_size(size);
  pages->width             = page.x;
  pages->height            = page.y;
  pages->margin            = LOOK.margin;
  pages->n_pages           = 1;
  pages->n_blocks          = 0;
  pages->bars_per_row      = find_bars_per_row(pages, chart);
  const unsigned rows =
    (chart->n_bars + pages->bars_per_row - 1) / pages->bars_per_row;
  Flow flow = {pages, LOOK.margin};
  put_line(&flow, BLOCK_HEADER, 0);
  if (sheet->request.n_rhythms) {
    put_goals(&flow, &sheet->request);
    put_rhythms(&flow, sheet);
    return;
  }
  put_line(&flow, BLOCK_TASK, 0);
  put_goals(&flow, &sheet->request);
  put_heading(&flow, BLOCK_FORM_ROW);
  for (unsigned i = 0; i < rows; ++i) {
    put_line(&flow, BLOCK_FORM_ROW, i);
  }
  put_rhythms(&flow, sheet);
  if (sheet->n_chords) {
    put_heading(&flow, BLOCK_CHORD);
    put_columns(&flow, BLOCK_CHORD, sheet->n_chords, CHORD_COLUMNS);
  }
  put_heading(&flow, BLOCK_SCALE);
  put_columns(&flow, BLOCK_SCALE, sheet->n_scales, SCALE_COLUMNS);
}
