/// @file responder/lesson/printing.h A page to practise from, for what was
/// chosen.

#ifndef RESPONDER_LESSON_PRINTING_H
#define RESPONDER_LESSON_PRINTING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/journal/day.h"
#include "profiles/sheet/pages.h"
#include "profiles/sheet/print.h"
#include "profiles/sheet/sheet.h"
#include "responder/lesson/notices.h"
#include "responder/lesson/who.h"
#include "responder/setup/setup.h"

/// A sheet laid out in pages; large, keep it in place.
typedef struct {
  Sheet      sheet;
  SheetPages pages;
  char       date[DAY_TEXT_CAPACITY];
} Printing;

/// What is printed beside what is set up.
typedef struct {
  SheetSize  size;
  const Who* who;       ///< Name and goals; outlives the printing
  int32_t    day;       ///< Days since 1970-01-01
  unsigned   n_rhythms; ///< A page of so many rhythms instead; 0: the sheet
} PrintingWish;

/// Lay out the sheet of a setup whose rungs climb as the learner's do.
void
printing_lay(Printing* printing, const Setup* setup, const PrintingWish* wish);

/// Tell of names and goals that paper cannot hold as they are written.
void
printing_warn(const Printing* printing, Notices* notices);

/// Write it to a file: `.pdf`, `.svg` or `.png`; STATUS_OK, or as sheet_save().
MUST_USE Status
printing_save(const Printing* printing, const char* path, Fault* fault);

#endif // RESPONDER_LESSON_PRINTING_H
