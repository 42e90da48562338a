/// @file responder/lesson/printing.h A page to practise from, for what was
/// chosen.

#ifndef RESPONDER_LESSON_PRINTING_H
#define RESPONDER_LESSON_PRINTING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/sheet/pages.h"
#include "profiles/sheet/sheet.h"
#include "responder/setup/setup.h"

/// A sheet laid out in pages; large, keep it in place.
typedef struct {
  Sheet      sheet;
  SheetPages pages;
} Printing;

/// Lay out the sheet of a setup whose rungs climb as the learner's do.
void
printing_lay(Printing* printing, const Setup* setup, SheetSize size);

/// Write it to a file: `.pdf`, `.svg` or `.png`; STATUS_OK, or as sheet_save().
MUST_USE Status
printing_save(const Printing* printing, const char* path, Fault* fault);

#endif // RESPONDER_LESSON_PRINTING_H
