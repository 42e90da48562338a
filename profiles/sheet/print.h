/// @file profiles/sheet/print.h A sheet on paper.

#ifndef PROFILES_SHEET_PRINT_H
#define PROFILES_SHEET_PRINT_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/paper/paper.h"
#include "core/status.h"
#include "profiles/sheet/pages.h"
#include "profiles/sheet/sheet.h"
#include "profiles/sheet/staves.h"

#include <stdbool.h>

/// Draw one page, from 0, on a paper of its size; STATUS_OK or as
/// paper_picture().
MUST_USE Status
sheet_draw(Paper*             paper,
           const Sheet*       sheet,
           const SheetPages*  pages,
           const SheetStaves* staves,
           unsigned           page,
           Fault*             fault);

/// Whether a file of this name holds one page of several.
bool
sheet_is_split(const SheetPages* pages, const char* path);

/**
   Write a sheet into a file, whose name's end says its kind. A PDF holds all
   pages. A picture holds one: where there are more, `name.svg` becomes
   `name-1.svg`, `name-2.svg` and so on.

   @return STATUS_OK; STATUS_RANGE for another kind or a name too long; as
   engrave_svg(); STATUS_MEMORY or STATUS_SYSTEM; with the fault written.
*/
MUST_USE Status
sheet_save(const Sheet*      sheet,
           const SheetPages* pages,
           const char*       path,
           Fault*            fault);

/// Sheets of one size one after the other; zeroed, it is empty.
typedef struct {
  Paper*   paper; ///< Owned
  unsigned n_pages;
} SheetBook;

/// Add all pages of a sheet; STATUS_OK, or as sheet_save().
MUST_USE Status
sheet_book_add(SheetBook*        book,
               const Sheet*      sheet,
               const SheetPages* pages,
               Fault*            fault);

/// Write them into a PDF; STATUS_OK, or as sheet_save().
MUST_USE Status
sheet_book_save(SheetBook* book, const char* path, Fault* fault);

void
sheet_book_close(SheetBook* book);

#endif // PROFILES_SHEET_PRINT_H
