/// @file profiles/sheet/draw.h What each block of a sheet looks like.
///
/// Each call draws within its block. Black on white: what is told is told by
/// shape, place and words.

#ifndef PROFILES_SHEET_DRAW_H
#define PROFILES_SHEET_DRAW_H

#include "core/paper/paper.h"
#include "profiles/sheet/pages.h"
#include "profiles/sheet/sheet.h"
#include "profiles/sheet/staves.h"

/// Draw a row of bars.
void
draw_form_row(Paper*            paper,
              const Sheet*      sheet,
              const SheetPages* pages,
              const SheetBlock* block);

/// Draw what the lines above the bars mean, from a point to the left.
void
draw_form_legend(Paper* paper, const Sheet* sheet, PaperPoint right);

/// Draw a chord's names and its keyboard.
void
draw_chord(Paper* paper, const Sheet* sheet, const SheetBlock* block);

/// Draw what the shapes on the keys mean, from a point to the left.
void
draw_chord_legend(Paper* paper, PaperPoint right);

/// Draw a rhythm on one line, with its number where there are several, or a
/// scale with its name; STATUS_OK or as paper_picture().
MUST_USE Status
draw_staff(Paper*             paper,
           const Sheet*       sheet,
           const SheetStaves* staves,
           const SheetBlock*  block,
           Fault*             fault);

#endif // PROFILES_SHEET_DRAW_H
