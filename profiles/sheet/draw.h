/// @file profiles/sheet/draw.h What each block of a sheet looks like.
///
/// Each call draws within its block. Black on white: what is told is told by
/// shape, place and words.

#ifndef PROFILES_SHEET_DRAW_H
#define PROFILES_SHEET_DRAW_H

#include "core/paper/paper.h"
#include "profiles/sheet/pages.h"
#include "profiles/sheet/sheet.h"

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

/// Draw the rhythm on one line.
void
draw_rhythm(Paper* paper, const Sheet* sheet, const SheetBlock* block);

/// Draw a scale in a staff, with fingers.
void
draw_scale(Paper* paper, const Sheet* sheet, const SheetBlock* block);

#endif // PROFILES_SHEET_DRAW_H
