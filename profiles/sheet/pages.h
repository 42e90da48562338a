/// @file profiles/sheet/pages.h Where what stands on a sheet goes, page by
/// page.
///
/// Blocks flow down the pages; a heading stays with what it heads. All lengths
/// are points. Nothing is drawn and no letter is measured here: what a block
/// holds is made to fit it.

#ifndef PROFILES_SHEET_PAGES_H
#define PROFILES_SHEET_PAGES_H

#include "core/paper/paper.h"
#include "profiles/sheet/sheet.h"

/// ISO 216 A4, and Letter of ANSI/ASME Y14.1 (8.5 by 11 inches).
typedef enum { SHEET_A4, SHEET_LETTER } SheetSize;

typedef enum {
  BLOCK_HEADER,
  BLOCK_TASK,
  BLOCK_GOAL,      ///< By goal
  BLOCK_LONG_GOAL, ///< ... of two lines
  BLOCK_HEADING,   ///< Its index is the kind of block that it heads
  BLOCK_FORM_ROW,  ///< By row
  BLOCK_RHYTHM,    ///< By rhythm of the sheet
  BLOCK_CHORD,     ///< By chord of the sheet
  BLOCK_SCALE,     ///< By scale of the sheet
} BlockKind;

#define PAGES_NUMBER_WIDTH 16.0 ///< For numbers, left of a row or a rhythm

enum {
  PAGES_BLOCK_CAPACITY = CHART_BAR_CAPACITY + 2 * CHART_CHANGE_CAPACITY +
                         SHEET_RHYTHMS_MOST + SHEET_GOALS + 8,
};

typedef struct {
  BlockKind  kind;
  unsigned   index;
  unsigned   page; ///< From 0
  PaperPoint corner;
  double     width;
  double     height;
} SheetBlock;

/// A layout, about 150 KiB.
typedef struct {
  double     width; ///< Of a page
  double     height;
  double     margin;
  unsigned   bars_per_row; ///< 4, or 2 or 1 where chords crowd the bars
  unsigned   n_pages;      ///< 1 or more
  unsigned   n_blocks;
  SheetBlock blocks[PAGES_BLOCK_CAPACITY]; ///< Rising by page
} SheetPages;

/// Lay a sheet out.
void
sheet_pages(SheetPages* pages, const Sheet* sheet, SheetSize size);

#endif // PROFILES_SHEET_PAGES_H
