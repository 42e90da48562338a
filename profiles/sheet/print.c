#include "profiles/sheet/print.h"

#include "core/files/file.h"
#include "profiles/plan/care.h"
#include "profiles/sheet/draw.h"
#include "profiles/sheet/ink.h"
#include "profiles/sheet/letters.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { WORDS_CAPACITY = 320, LEAF_CAPACITY = 700 };

static const double straight_below = 1.05; // Swing ratios that nobody hears
static const char   goals_head[]   = "Goals: ";

static double
whole_tempo(const SheetRequest* const request)
{
  return (double)(long)(request->tempo_bpm + 0.5);
}

/// Write whose it is and of which day; empty if nobody's and of none.
static void
tell_owner(const SheetRequest* const request, char owner[WORDS_CAPACITY])
{
  (void)snprintf(owner,
                 WORDS_CAPACITY,
                 "%s%s%s",
                 request->name ? request->name : "",
                 request->name && request->date ? ", " : "",
                 request->date ? request->date : "");
}

/// Draw that at the right, a long name above its day; return the room it takes.
static double
draw_owner(Paper* const              paper,
           const SheetRequest* const request,
           const SheetBlock* const   block)
{
  const PaperType  type  = {.size = 10.0, .align = PAPER_RIGHT};
  const PaperPoint right = {block->corner.x + block->width,
                            block->corner.y + 20.0};
  const PaperPoint above = {right.x, block->corner.y + 8.0};
  char             owner[WORDS_CAPACITY];
  tell_owner(request, owner);
  if (!owner[0]) {
    return 0.0;
  }
  if (!request->name || !request->date ||
      paper_text_width(paper, type, owner) < 0.4 * block->width) {
    return ink_text(paper, type, right, 0.4 * block->width, owner) + 12.0;
  }
  (void)ink_text(paper, type, right, block->width, request->date);
  return ink_text(paper, type, above, 0.6 * block->width, request->name) + 12.0;
}

/// Write what a sheet is called.
static void
tell_title(const Sheet* const sheet, char title[WORDS_CAPACITY])
{
  const Chart* const chart = sheet->request.chart;
  char               key[LETTERS_CAPACITY];
  char               meter[METER_TEXT_CAPACITY];
  if (sheet->request.n_rhythms) {
    (void)snprintf(
      title, WORDS_CAPACITY, "Rhythms in %s", meter_text(chart->meter, meter));
  } else {
    (void)snprintf(title,
                   WORDS_CAPACITY,
                   "%s in %s",
                   chart->title,
                   letters_key(chart->key, key));
  }
}

/// Write how it is played; of rhythms, how to have the same ones again.
static void
tell_playing(const Sheet* const sheet, char line[WORDS_CAPACITY])
{
  const SheetRequest* const request = &sheet->request;
  char                      key[LETTERS_CAPACITY];
  char                      meter[METER_TEXT_CAPACITY];
  if (request->n_rhythms) {
    (void)snprintf(
      line,
      WORDS_CAPACITY,
      "rung %u of rhythm, %s; %s at %.0f; seed %" PRIu64,
      request->rung.level[DIMENSION_RHYTHM],
      request->ladder->rhythm[request->rung.level[DIMENSION_RHYTHM] - 1].words,
      request->feel,
      whole_tempo(request),
      request->seed);
  } else {
    (void)snprintf(line,
                   WORDS_CAPACITY,
                   "%s, %s, %s at %.0f",
                   letters_key(request->chart->key, key),
                   meter_text(request->chart->meter, meter),
                   request->feel,
                   whole_tempo(request));
  }
}

static void
draw_header(Paper* const            paper,
            const Sheet* const      sheet,
            const SheetBlock* const block)
{
  const SheetRequest* const request = &sheet->request;
  char                      title[WORDS_CAPACITY];
  char                      line[WORDS_CAPACITY];
  tell_title(sheet, title);
  tell_playing(sheet, line);
  (void)ink_text(paper,
                 (PaperType){.size = 21.0, .is_bold = true},
                 (PaperPoint){block->corner.x, block->corner.y + 20.0},
                 block->width - draw_owner(paper, request, block),
                 request->n_rhythms ? title : request->chart->title);
  (void)ink_text(paper,
                 (PaperType){.size = 10.0},
                 (PaperPoint){block->corner.x, block->corner.y + 37.0},
                 block->width,
                 line);
}

/// How the eighths of the rhythm are played.
static void
tell_eighths(const Sheet* const sheet, char* const text, const size_t size)
{
  const SheetRequest* const request = &sheet->request;
  const RhythmRung* const   rung =
    &request->ladder->rhythm[request->rung.level[DIMENSION_RHYTHM] - 1];
  const bool is_compound = meter_is_compound(request->chart->meter);
  if (!rung->eighths) {
    text[0] = '\0';
  } else if (rung->swing && !is_compound &&
             request->swing_ratio >= straight_below) {
    (void)snprintf(text,
                   size,
                   "swung eighths, long to short about %.1f : 1",
                   request->swing_ratio);
  } else {
    (void)snprintf(text, size, "even eighths");
  }
}

static void
draw_heading(Paper* const            paper,
             const Sheet* const      sheet,
             const SheetBlock* const block)
{
  static const char* const words[] = {
    [BLOCK_FORM_ROW] = "The form",
    [BLOCK_RHYTHM]   = "A rhythm to speak, clap and play",
    [BLOCK_CHORD]    = "The chords, their scales, and the left hand (L)",
    [BLOCK_SCALE]    = "The scale, fingered",
  };
  const PaperPoint at    = {block->corner.x, block->corner.y + 16.0};
  const PaperPoint right = {block->corner.x + block->width, at.y};
  const PaperType  note  = {.size = 8.0, .align = PAPER_RIGHT};
  char             text[WORDS_CAPACITY];
  paper_text(paper,
             (PaperType){.size = 11.0, .is_bold = true},
             at,
             block->index == BLOCK_SCALE && sheet->n_scales > 1
               ? "The scales, fingered"
             : block->index == BLOCK_RHYTHM && sheet->n_rhythms > 1
               ? "Rhythms to speak, clap and play"
               : words[block->index]);
  switch ((BlockKind)block->index) {
    case BLOCK_FORM_ROW:
      draw_form_legend(paper, sheet, right);
      break;
    case BLOCK_RHYTHM:
      tell_eighths(sheet, text, sizeof(text));
      paper_text(paper, note, right, text);
      break;
    case BLOCK_CHORD:
      draw_chord_legend(paper, right);
      break;
    case BLOCK_SCALE:
      paper_text(paper,
                 note,
                 right,
                 "above for the right hand, below for the left, an octave or "
                 "two lower; 1 is the thumb");
      break;
    case BLOCK_HEADER:
    case BLOCK_TASK:
    case BLOCK_GOAL:
    case BLOCK_LONG_GOAL:
    case BLOCK_HEADING:
      break;
  }
}

static void
draw_goal(Paper* const            paper,
          const Sheet* const      sheet,
          const SheetBlock* const block)
{
  const PaperType  type = {.size = 10.0};
  const PaperPoint at   = {block->corner.x, block->corner.y + 8.0};
  const double     head = paper_text_width(paper, type, goals_head);
  if (!block->index) {
    paper_text(paper, type, at, goals_head);
  }
  ink_paragraph(paper,
                type,
                (PaperPoint){at.x + head, at.y},
                block->width - head,
                block->kind == BLOCK_LONG_GOAL ? 2 : 1,
                sheet->request.goals[block->index]);
}

static Status
draw_block(Paper* const             paper,
           const Sheet* const       sheet,
           const SheetPages* const  pages,
           const SheetStaves* const staves,
           const SheetBlock* const  block,
           Fault* const             fault)
{
  switch (block->kind) {
    case BLOCK_HEADER:
      draw_header(paper, sheet, block);
      break;
    case BLOCK_TASK:
      ink_paragraph(paper,
                    (PaperType){.size = 10.0, .is_bold = true},
                    (PaperPoint){block->corner.x, block->corner.y + 12.0},
                    block->width,
                    2,
                    sheet->task);
      break;
    case BLOCK_GOAL:
    case BLOCK_LONG_GOAL:
      draw_goal(paper, sheet, block);
      break;
    case BLOCK_HEADING:
      draw_heading(paper, sheet, block);
      break;
    case BLOCK_FORM_ROW:
      draw_form_row(paper, sheet, pages, block);
      break;
    case BLOCK_CHORD:
      draw_chord(paper, sheet, block);
      break;
    case BLOCK_RHYTHM:
    case BLOCK_SCALE:
      return draw_staff(paper, sheet, staves, block, fault);
  }
  return STATUS_OK;
}

/// Write whose and what a page is that follows: leaves come loose. The first
/// one, which says so at its head, has the caution.
static void
tell_leaf(const Sheet* const sheet,
          const unsigned     page,
          char               text[LEAF_CAPACITY])
{
  char title[WORDS_CAPACITY];
  char owner[WORDS_CAPACITY];
  if (!page) {
    (void)snprintf(text, LEAF_CAPACITY, "%s", care_text());
    return;
  }
  tell_title(sheet, title);
  tell_owner(&sheet->request, owner);
  (void)snprintf(
    text, LEAF_CAPACITY, "%s%s%s", owner, owner[0] ? "; " : "", title);
}

static void
draw_footer(Paper* const            paper,
            const Sheet* const      sheet,
            const SheetPages* const pages,
            const unsigned          page)
{
  const double width = pages->width - 2.0 * pages->margin;
  const double y     = pages->height - pages->margin;
  char         number[32];
  char         text[LEAF_CAPACITY];
  (void)snprintf(number, sizeof(number), "%u / %u", page + 1, pages->n_pages);
  tell_leaf(sheet, page, text);
  const PaperType type = {.size = 7.5};
  (void)ink_text(
    paper, type, (PaperPoint){pages->margin, y}, width - 40.0, text);
  paper_text(paper,
             (PaperType){.size = type.size, .align = PAPER_RIGHT},
             (PaperPoint){pages->margin + width, y},
             number);
}

Status
sheet_draw(Paper* const             paper,
           const Sheet* const       sheet,
           const SheetPages* const  pages,
           const SheetStaves* const staves,
           const unsigned           page,
           Fault* const             fault)
{
  Status status = STATUS_OK;
  for (unsigned i = 0; i < pages->n_blocks && !status; ++i) {
    if (pages->blocks[i].page == page) {
      status =
        draw_block(paper, sheet, pages, staves, &pages->blocks[i], fault);
    }
  }
  draw_footer(paper, sheet, pages, page);
  return status;
}

// Files

/// Draw pages from `first` up to `end`, each on one of its own.
static Status
draw_pages(Paper* const             paper,
           const Sheet* const       sheet,
           const SheetPages* const  pages,
           const SheetStaves* const staves,
           const unsigned           first,
           const unsigned           end,
           Fault* const             fault)
{
  Status status = STATUS_OK;
  for (unsigned page = first; page < end && !status; ++page) {
    if (page > first) {
      paper_next_page(paper);
    }
    status = sheet_draw(paper, sheet, pages, staves, page, fault);
  }
  return status;
}

static Status
save_pages(const Sheet* const       sheet,
           const SheetPages* const  pages,
           const SheetStaves* const staves,
           const PaperKind          kind,
           const unsigned           first,
           const unsigned           end,
           const char* const        path,
           Fault* const             fault)
{
  Paper* paper = NULL;
  char   title[WORDS_CAPACITY];
  if (paper_open(&paper, kind, pages->width, pages->height)) {
    return fault_memory(fault, path);
  }
  tell_title(sheet, title);
  paper_title(paper, title);
  Status status = draw_pages(paper, sheet, pages, staves, first, end, fault);
  if (!status) {
    status = paper_save(paper, path, fault);
  }
  paper_close(paper);
  return status;
}

/// Write `name-2.svg` for the second page; false if it is too long.
static bool
name_page(char              name[FILE_PATH_CAPACITY],
          const char* const path,
          const unsigned    page)
{
  const char* const ending = strrchr(path, '.');
  const int         length = snprintf(name,
                              FILE_PATH_CAPACITY,
                              "%.*s-%u%s",
                              (int)(ending - path),
                              path,
                              page + 1,
                              ending);
  return length > 0 && length < FILE_PATH_CAPACITY;
}

bool
sheet_is_split(const SheetPages* const pages, const char* const path)
{
  PaperKind kind = PAPER_PDF;
  Fault     fault;
  return pages->n_pages > 1 && !paper_kind(&kind, path, &fault) &&
         kind != PAPER_PDF;
}

static Status
save_split(const Sheet* const       sheet,
           const SheetPages* const  pages,
           const SheetStaves* const staves,
           const PaperKind          kind,
           const char* const        path,
           Fault* const             fault)
{
  Status status = STATUS_OK;
  for (unsigned page = 0; page < pages->n_pages && !status; ++page) {
    char name[FILE_PATH_CAPACITY];
    status =
      name_page(name, path, page)
        ? save_pages(sheet, pages, staves, kind, page, page + 1, name, fault)
        : fault_in(fault, STATUS_RANGE, path, "the name is too long");
  }
  return status;
}

Status
sheet_save(const Sheet* const      sheet,
           const SheetPages* const pages,
           const char* const       path,
           Fault* const            fault)
{
  PaperKind   kind   = PAPER_PDF;
  SheetStaves staves = {.svg = NULL};
  Status      status = paper_kind(&kind, path, fault);
  if (!status) {
    status = sheet_staves(&staves, sheet, pages, fault);
  }
  if (!status) {
    status = sheet_is_split(pages, path)
               ? save_split(sheet, pages, &staves, kind, path, fault)
               : save_pages(
                   sheet, pages, &staves, kind, 0, pages->n_pages, path, fault);
  }
  sheet_staves_free(&staves);
  return status;
}

// Books

Status
sheet_book_add(SheetBook* const        book,
               const Sheet* const      sheet,
               const SheetPages* const pages,
               Fault* const            fault)
{
  SheetStaves staves = {.svg = NULL};
  if (!book->paper &&
      paper_open(&book->paper, PAPER_PDF, pages->width, pages->height)) {
    return fault_memory(fault, NULL);
  }
  Status status = sheet_staves(&staves, sheet, pages, fault);
  if (!status) {
    if (book->n_pages) {
      paper_next_page(book->paper);
    }
    status =
      draw_pages(book->paper, sheet, pages, &staves, 0, pages->n_pages, fault);
    book->n_pages += pages->n_pages;
  }
  sheet_staves_free(&staves);
  return status;
}

Status
sheet_book_save(SheetBook* const  book,
                const char* const path,
                Fault* const      fault)
{
  if (!book->paper) {
    return fault_in(fault, STATUS_MISSING, path, "there is no page");
  }
  paper_title(book->paper, "Sheets to practise from");
  return paper_save(book->paper, path, fault);
}

void
sheet_book_close(SheetBook* const book)
{
  paper_close(book->paper);
  *book = (SheetBook){.n_pages = 0};
}
