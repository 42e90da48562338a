#include "profiles/sheet/draw.h"

#include "profiles/sheet/ink.h"
#include "profiles/sheet/letters.h"

#include <math.h>
#include <stdio.h>

enum { WORDS_CAPACITY = 64 };

// By eye, points
static const double turn_y       = 7.0; // Of the lines that tell the turns
static const double bar_top      = 12.0;
static const double bar_foot     = 34.0;
static const double symbol_size  = 13.0;
static const double symbol_base  = 28.0;
static const double padding      = 5.0;
static const double thin         = 0.8;
static const double thick        = 2.4;
static const double repeat_space = 6.0; // Of a staff that is not drawn
static const double repeat_width = 8.0; // Of the signs that the form goes round

typedef struct {
  Paper*       paper;
  const Sheet* sheet;
  PaperPoint   corner; ///< Of the bar
  double       width;
  unsigned     bar;
} BarPlace;

static void
draw_bar_line(const BarPlace* const place, const double x, const double width)
{
  ink_rule(place->paper,
           (PaperPoint){x, place->corner.y + bar_top},
           (PaperPoint){x, place->corner.y + bar_foot},
           width);
}

static PaperPoint
off(const PaperPoint at, const double x, const double y)
{
  return (PaperPoint){at.x + repeat_space * x, at.y + repeat_space * y};
}

/// Draw the sign that says to play the bar before again.
static void
draw_repeat(Paper* const paper, const PaperPoint centre)
{
  const PaperPoint slash[] = {off(centre, -1.15, -1.0),
                              off(centre, -0.55, -1.0),
                              off(centre, 1.15, 1.0),
                              off(centre, 0.55, 1.0)};
  paper_area(paper, INK_BLACK, slash, 4);
  paper_disc(paper, INK_BLACK, off(centre, -0.85, 0.45), 0.24 * repeat_space);
  paper_disc(paper, INK_BLACK, off(centre, 0.85, -0.45), 0.24 * repeat_space);
}

/// The form goes round: two dots and a thick line at its ends; `side` is 1 at
/// its beginning, -1 at its end.
static void
draw_round(const BarPlace* const place, const double x, const double side)
{
  draw_bar_line(place, x + side * thick / 2.0, thick);
  draw_bar_line(place, x + side * 4.4, thin);
  for (double dot = -1.0; dot <= 1.0; dot += 2.0) {
    const double middle = place->corner.y + (bar_top + bar_foot) / 2.0;
    paper_disc(place->paper,
               INK_BLACK,
               (PaperPoint){x + side * 7.4, middle + 3.4 * dot},
               1.2);
  }
}

/// Where in its bar a change stands, and how much room it has.
static double
symbol_place(const BarPlace* const place,
             const unsigned        change,
             const bool            is_last,
             double* const         room)
{
  const Chart* const chart = place->sheet->request.chart;
  const Tick         bar   = meter_bar_ticks(chart->meter);
  const double       ends  = place->bar == 0 ? repeat_width : 0.0;
  const double tail   = place->bar + 1 == chart->n_bars ? repeat_width : 0.0;
  const double begin  = place->corner.x + ends + padding;
  const double inside = place->width - ends - tail - padding;
  const Tick   from   = chart->changes[change].tick % bar;
  const Tick   until  = is_last ? bar : chart->changes[change + 1].tick % bar;
  *room               = inside * (double)(until - from) / (double)bar - padding;
  return begin + inside * (double)from / (double)bar;
}

/// All chords of a bar are as large as the one that has least room allows.
static void
draw_symbols(const BarPlace* const place)
{
  const Chart* const chart = place->sheet->request.chart;
  unsigned           n     = 0;
  const unsigned     first = sheet_bar_changes(chart, place->bar, &n);
  PaperType          type  = {.size = symbol_size, .is_bold = true};
  char               text[LETTERS_CAPACITY];
  for (unsigned i = 0; i < n; ++i) {
    double room = 0.0;
    (void)symbol_place(place, first + i, i + 1 == n, &room);
    const PaperType full = {.size = symbol_size, .is_bold = true};
    const double    wish =
      paper_text_width(place->paper,
                       full,
                       letters_chord(&chart->changes[first + i].chord, text));
    type.size = fmin(type.size, symbol_size * room / wish);
  }
  for (unsigned i = 0; i < n; ++i) {
    double       room = 0.0;
    const double x    = symbol_place(place, first + i, i + 1 == n, &room);
    paper_text(place->paper,
               type,
               (PaperPoint){x, place->corner.y + symbol_base},
               letters_chord(&chart->changes[first + i].chord, text));
  }
}

static bool
is_partners(const Sheet* const sheet, const unsigned bar)
{
  return (bar / sheet->request.bars_per_turn % 2 == 1) !=
         sheet->request.partner_begins;
}

static PaperPen
pen_of_turn(const bool is_partner)
{
  return (PaperPen){.ink   = INK_BLACK,
                    .dash  = is_partner ? PAPER_DOTTED : PAPER_SOLID,
                    .width = is_partner ? 0.9 : 1.2};
}

/// A line above the bar, with a name where a turn begins.
static void
draw_turn(const BarPlace* const place)
{
  const bool   is_partner = is_partners(place->sheet, place->bar);
  const bool   begins = place->bar % place->sheet->request.bars_per_turn == 0;
  const double y      = place->corner.y + turn_y;
  double       x      = place->corner.x;
  if (begins) {
    const PaperType type = {.size = 7.0};
    const char*     name = is_partner ? "partner" : "you";
    paper_text(place->paper, type, (PaperPoint){x + 1.0, y + 2.0}, name);
    x += paper_text_width(place->paper, type, name) + 4.0;
  }
  const PaperPoint ends[] = {{x, y}, {place->corner.x + place->width - 3.0, y}};
  paper_line(place->paper, pen_of_turn(is_partner), ends, 2);
}

static void
draw_bar(const BarPlace* const place, const bool begins_row)
{
  const Chart* const chart = place->sheet->request.chart;
  const double       right = place->corner.x + place->width;
  if (place->bar == 0) {
    draw_round(place, place->corner.x, 1.0);
  } else if (begins_row) {
    draw_bar_line(place, place->corner.x, thin);
  }
  if (place->bar + 1 == chart->n_bars) {
    draw_round(place, right, -1.0);
  } else {
    draw_bar_line(place, right, thin);
  }
  if (sheet_repeats_bar(chart, place->bar)) {
    const PaperPoint centre = {(place->corner.x + right) / 2.0,
                               place->corner.y + (bar_top + bar_foot) / 2.0};
    draw_repeat(place->paper, centre);
  } else {
    draw_symbols(place);
  }
  if (sheet_has_turns(place->sheet)) {
    draw_turn(place);
  }
}

void
draw_form_row(Paper* const            paper,
              const Sheet* const      sheet,
              const SheetPages* const pages,
              const SheetBlock* const block)
{
  const unsigned n_bars = sheet->request.chart->n_bars;
  const unsigned first  = block->index * pages->bars_per_row;
  const double   width =
    (block->width - PAGES_NUMBER_WIDTH) / pages->bars_per_row;
  char number[12];
  (void)snprintf(number, sizeof(number), "%u", first + 1);
  paper_text(paper,
             (PaperType){.size = 7.0, .align = PAPER_RIGHT},
             (PaperPoint){block->corner.x + PAGES_NUMBER_WIDTH - 5.0,
                          block->corner.y + 25.5},
             number);
  for (unsigned i = 0; i < pages->bars_per_row && first + i < n_bars; ++i) {
    const BarPlace place = {
      .paper  = paper,
      .sheet  = sheet,
      .corner = {block->corner.x + PAGES_NUMBER_WIDTH + width * i,
                 block->corner.y},
      .width  = width,
      .bar    = first + i,
    };
    draw_bar(&place, i == 0);
  }
}

void
draw_form_legend(Paper* const       paper,
                 const Sheet* const sheet,
                 const PaperPoint   right)
{
  const unsigned bars = sheet->request.bars_per_turn;
  char           words[WORDS_CAPACITY];
  (void)snprintf(words,
                 sizeof(words),
                 "turns of %u bar%s, otherwise each time round",
                 bars,
                 bars == 1 ? "" : "s");
  paper_text(paper,
             (PaperType){.size = 8.0, .align = PAPER_RIGHT},
             right,
             sheet_has_turns(sheet)
               ? "the line above tells whose turn it is: yours is drawn "
                 "through, your partner's is dotted"
               : words);
}
