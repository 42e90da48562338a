#include "profiles/sheet/print.h"

#include "core/settings/chart_file.h"
#include "profiles/files/ladder_file.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { INK_CAPACITY = 6000 };

/// All that was drawn on a page.
typedef struct {
  char      words[128]; ///< What page it is
  unsigned  n_marks;
  PaperMark marks[INK_CAPACITY];
} Ink;

/// A sheet and all it is made of.
typedef struct {
  ChartFile   file;
  Ladder      ladder;
  Sheet       sheet;
  SheetPages  pages;
  SheetStaves staves;
  Ink         ink;
} Made;

static void
keep(void* const watcher, const PaperMark* const mark)
{
  Ink* const ink = watcher;
  cr_assert_lt(ink->n_marks, INK_CAPACITY, "%s", ink->words);
  ink->marks[ink->n_marks++] = *mark;
}

static bool
overlap(const PaperMark* const a, const PaperMark* const b)
{
  return a->left < b->right && b->left < a->right && a->top < b->bottom &&
         b->top < a->bottom;
}

// Whatever is drawn keeps to the margins, and no letters touch others or any
// sign: extents are those that the drawing library finds
static void
look_at(const Ink* const ink, const SheetPages* const pages)
{
  const double least = pages->margin - 3.0;
  for (unsigned i = 0; i < ink->n_marks; ++i) {
    const PaperMark* const mark = &ink->marks[i];
    cr_assert(mark->left >= least && mark->top >= least &&
                mark->right <= pages->width - least &&
                mark->bottom <= pages->height - least,
              "%s: %g %g - %g %g leaves the page",
              ink->words,
              mark->left,
              mark->top,
              mark->right,
              mark->bottom);
    for (unsigned k = 0; mark->is_text && k < ink->n_marks; ++k) {
      cr_assert(k == i || !overlap(mark, &ink->marks[k]),
                "%s: %s %g %g - %g %g on %g %g - %g %g",
                ink->words,
                ink->marks[k].is_text ? "text" : "sign",
                mark->left,
                mark->top,
                mark->right,
                mark->bottom,
                ink->marks[k].left,
                ink->marks[k].top,
                ink->marks[k].right,
                ink->marks[k].bottom);
    }
  }
}

/// No two blocks share ink's room, and none leaves its page.
static void
look_at_blocks(const SheetPages* const pages)
{
  for (unsigned i = 0; i < pages->n_blocks; ++i) {
    const SheetBlock* const block = &pages->blocks[i];
    const PaperMark         here  = {false,
                                     block->corner.x,
                                     block->corner.y,
                                     block->corner.x + block->width,
                                     block->corner.y + block->height};
    cr_assert(here.left >= pages->margin && here.top >= pages->margin);
    cr_assert(here.right <= pages->width - pages->margin + 1e-6);
    cr_assert(here.bottom <= pages->height - pages->margin);
    cr_assert_lt(block->page, pages->n_pages);
    for (unsigned k = i + 1; k < pages->n_blocks; ++k) {
      const SheetBlock* const other = &pages->blocks[k];
      const PaperMark         there = {false,
                                       other->corner.x + 1e-6,
                                       other->corner.y + 1e-6,
                                       other->corner.x + other->width,
                                       other->corner.y + other->height};
      cr_assert(block->page != other->page || !overlap(&here, &there));
    }
  }
}

static void
load_ladder(Made* const made)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(ladder_file_load(&made->ladder,
                                BARTER_SOURCE_DIR "/config/ladder.cfg",
                                &faults),
               STATUS_OK);
}

/// Make, lay out and engrave.
static void
lay(Made* const made, const SheetSize size, const unsigned rhythm)
{
  const bool         is_named = rhythm % 2;
  const SheetRequest request  = {
     .chart         = &made->file.chart,
     .ladder        = &made->ladder,
     .rung          = {{8, (uint8_t)rhythm, 6, 4}},
     .task          = (Dimension)(rhythm % N_DIMENSIONS),
     .tempo_bpm     = 100.0,
     .swing_ratio   = 1.6,
     .feel          = "swing",
     .bars_per_turn = 2,
     .name          = is_named ? "Ada \u5C0F\u6625 of the long names" : NULL,
     .date          = "2026-02-03",
     .n_goals       = is_named ? 2 : 0,
     .goals         = {"leave more space",
                       "end each phrase on a chord tone, and let it stand for as "
                                "long as it takes to hear what comes next"},
     .n_rhythms     = rhythm == 3 ? 20 : 0,
     .seed          = rhythm,
  };
  Fault fault;
  sheet_make(&made->sheet, &request);
  sheet_pages(&made->pages, &made->sheet, size);
  look_at_blocks(&made->pages);
  cr_assert_eq(sheet_staves(&made->staves, &made->sheet, &made->pages, &fault),
               STATUS_OK,
               "%s",
               fault.text);
}

/// ... draw and look.
static void
look(Made* const made, const SheetSize size, const unsigned rhythm)
{
  Paper* paper = NULL;
  Fault  fault;
  lay(made, size, rhythm);
  cr_assert_eq(
    paper_open(&paper, PAPER_PDF, made->pages.width, made->pages.height),
    STATUS_OK);
  paper_watch(paper, keep, &made->ink);
  for (unsigned page = 0; page < made->pages.n_pages; ++page) {
    char meter[METER_TEXT_CAPACITY];
    char key[KEY_TEXT_CAPACITY];
    (void)snprintf(made->ink.words,
                   sizeof(made->ink.words),
                   "%s %s %s rhythm %u page %u size %u",
                   made->file.chart.title,
                   key_text(made->file.chart.key, key),
                   meter_text(made->file.chart.meter, meter),
                   rhythm,
                   page,
                   (unsigned)size);
    made->ink.n_marks = 0;
    cr_assert_eq(
      sheet_draw(
        paper, &made->sheet, &made->pages, &made->staves, page, &fault),
      STATUS_OK,
      "%s: %s",
      made->ink.words,
      fault.text);
    cr_assert_gt(made->ink.n_marks, 0);
    look_at(&made->ink, &made->pages);
  }
  paper_close(paper);
  sheet_staves_free(&made->staves);
}

static const Spelling tonics[] = {{0, 0},
                                  {4, 0},
                                  {1, 0},
                                  {5, 0},
                                  {2, 0},
                                  {6, 0},
                                  {3, 1},
                                  {1, -1},
                                  {5, -1},
                                  {2, -1},
                                  {6, -1},
                                  {3, 0}};

static void
look_in_all_keys(const char* const name)
{
  static Made made;
  char        path[256];
  Faults      faults = {.n_faults = 0};
  load_ladder(&made);
  (void)snprintf(
    path, sizeof(path), "%s/config/charts/%s.cfg", BARTER_SOURCE_DIR, name);
  cr_assert_eq(chart_file_load(&made.file, path, &faults), STATUS_OK);
  for (unsigned i = 0; i < sizeof(tonics) / sizeof(*tonics); ++i) {
    chart_transpose(&made.file.chart, tonics[i]);
    look(&made, i % 2 ? SHEET_A4 : SHEET_LETTER, 1 + i % N_RHYTHM_RUNGS);
    const unsigned most = made.sheet.request.n_goals ? 3 : 2;
    cr_assert_leq(made.pages.n_pages, most, "%s", name);
  }
}

// The shipped charts, in twelve keys, each on one of both papers: two pages at
// most, or one more where goals take their room
Test(sheet_pages, shipped_charts_fit_in_every_key)
{
  static const char* const names[] = {"blues",
                                      "blues-jazz",
                                      "blues-minor",
                                      "blues-quick-change",
                                      "modal-vamp",
                                      "one-chord",
                                      "sixteen-bar",
                                      "two-five-one",
                                      "waltz"};
  for (unsigned i = 0; i < sizeof(names) / sizeof(*names); ++i) {
    look_in_all_keys(names[i]);
  }
}

static void
begin(Made* const made, const Meter meter, const char* const title)
{
  made->file = (ChartFile){.tempo_bpm = 0.0};
  load_ladder(made);
  chart_begin(&made->file.chart, title, meter, (Key){{2, -1}, false});
}

static void
add_bar(Made* const made, const char* const bar)
{
  char fault[CHART_FAULT_CAPACITY];
  cr_assert_eq(chart_add_bar(&made->file.chart, bar, fault),
               STATUS_OK,
               "%s: %s",
               bar,
               fault);
}

// Eight goals stand under each other, long ones on two lines
Test(sheet_pages, many_goals_have_lines_of_their_own)
{
  static Made made;
  Faults      faults = {.n_faults = 0};
  load_ladder(&made);
  cr_assert_eq(chart_file_load(&made.file,
                               BARTER_SOURCE_DIR "/config/charts/blues.cfg",
                               &faults),
               STATUS_OK);
  lay(&made, SHEET_A4, 1);
  const char* const lasting = made.sheet.request.goals[1];
  for (unsigned i = 0; i < SHEET_GOALS; ++i) {
    made.sheet.request.goals[i] = i % 2 ? "leave more space" : lasting;
  }
  made.sheet.request.n_goals = SHEET_GOALS;
  sheet_pages(&made.pages, &made.sheet, SHEET_A4);
  look_at_blocks(&made.pages);
  unsigned n_goals = 0;
  for (unsigned i = 0; i < made.pages.n_blocks; ++i) {
    const SheetBlock* const block   = &made.pages.blocks[i];
    const bool              is_long = block->kind == BLOCK_LONG_GOAL;
    if (is_long || block->kind == BLOCK_GOAL) {
      cr_assert_eq(is_long, block->index % 2 == 0);
      cr_assert_eq(block->index, n_goals++);
    }
  }
  cr_assert_eq(n_goals, SHEET_GOALS);
  sheet_staves_free(&made.staves);
}

// All rungs of rhythm in all meters
Test(sheet_pages, every_meter_and_rung_fits)
{
  static Made        made;
  static const Meter meters[] = {
    {2, 4}, {3, 4}, {4, 4}, {5, 4}, {6, 8}, {12, 8}};
  for (unsigned i = 0; i < sizeof(meters) / sizeof(*meters); ++i) {
    begin(&made, meters[i], "Of another meter");
    add_bar(&made, "Eb6 F#m7b5");
    add_bar(&made, "N.C.");
    for (unsigned rhythm = 1; rhythm <= N_RHYTHM_RUNGS; ++rhythm) {
      look(&made, SHEET_A4, rhythm);
    }
  }
}

// The longest symbols, as many as a bar holds, under the longest title
Test(sheet_pages, crowded_bars_fit)
{
  static Made made;
  char        title[CHART_TITLE_CAPACITY];
  memset(title, 'W', sizeof(title) - 1);
  title[sizeof(title) - 1] = '\0';
  begin(&made, (Meter){5, 4}, title);
  add_bar(&made, "F#maj7#9#11/A# G#m7b5b9/D# C#7#9b13/G# Bbm11b5/Gb Ebmaj9");
  add_bar(&made, "%");
  add_bar(&made, "Abm7b5 / / / Db7b9b13/Cb");
  look(&made, SHEET_A4, 4);
  cr_assert_leq(made.pages.bars_per_row, 2);
  look(&made, SHEET_LETTER, 4);
}

// Every kind of scale on every tonic, 21 by 12, one a bar; all the bars there
// may be
Test(sheet_pages, every_scale_and_the_longest_form_fit)
{
  static Made made;
  begin(&made, (Meter){4, 4}, "Every scale");
  for (unsigned i = 0; i < CHART_BAR_CAPACITY; ++i) {
    add_bar(&made, i % 3 ? "Cm7" : "Gb7 F#dim7");
  }
  for (unsigned i = 0; i < 12 * scale_kinds(); ++i) {
    const Scale scale =
      scale_readable((Scale){tonics[i % 12], i / 12 % scale_kinds()});
    char text[SCALE_TEXT_CAPACITY];
    cr_assert_eq(chart_set_scale(&made.file.chart, i, scale_text(scale, text)),
                 STATUS_OK);
  }
  look(&made, SHEET_A4, 5);
  cr_assert_gt(made.sheet.n_scales, 240);
  look(&made, SHEET_LETTER, 6);
}

/// Return how high the heads of a piece stand, as abcm2ps has them: in pixels
/// down, three to a step from line to space.
static unsigned
read_heads(const EngravedPiece* const piece, double heights[64])
{
  unsigned n = 0;
  for (const char* at = piece->svg;
       (at = strstr(at, "<use x=\"")) != NULL && at < piece->svg + piece->n;
       ++at) {
    double x        = 0.0;
    double y        = 0.0;
    char   glyph[8] = "";
    if (sscanf(at,
               "<use x=\"%lf\" y=\"%lf\" xlink:href=\"#%7[^\"]",
               &x,
               &y,
               glyph) == 3 &&
        strcasecmp(glyph, "hd") == 0) { // Open ones are Hd
      heights[n++] = y;
    }
  }
  return n;
}

// Each note of a scale is one letter further up, or several where a letter is
// left out; each onset of the rhythm, what is tied to it too, has a head
Test(sheet_pages, staves_hold_what_is_to_be_played)
{
  static Made made;
  if (system("command -v abcm2ps >/dev/null") != 0) {
    cr_skip_test("there is no abcm2ps here");
  }
  for (unsigned rhythm = 1; rhythm <= N_RHYTHM_RUNGS; ++rhythm) {
    begin(&made, (Meter){4, 4}, "To count");
    add_bar(&made, "Eb6 F#m7b5");
    add_bar(&made, "Ab7");
    lay(&made, SHEET_A4, rhythm);
    double   heights[64];
    unsigned n_notes = 0;
    for (unsigned i = 0; i < made.sheet.rhythms[0].n_marks; ++i) {
      n_notes += !made.sheet.rhythms[0].marks[i].is_rest;
    }
    const unsigned n_scales = rhythm == 3 ? 0 : made.sheet.n_scales;
    cr_assert_eq(made.staves.n, made.sheet.n_rhythms + n_scales);
    cr_assert_eq(read_heads(&made.staves.pieces[0], heights), n_notes);
    for (unsigned i = 0; i < n_scales; ++i) {
      const SheetRun run = sheet_run(made.sheet.scales[i]);
      cr_assert_eq(
        read_heads(&made.staves.pieces[made.sheet.n_rhythms + i], heights),
        run.n);
      for (unsigned k = 1; k < run.n; ++k) {
        const int steps =
          (run.spellings[k].letter - run.spellings[k - 1].letter + 7) % 7;
        cr_assert_float_eq(heights[k - 1] - heights[k], 3.0 * steps, 0.01);
      }
    }
    sheet_staves_free(&made.staves);
  }
}
