/// @file profiles/sheet/staves.h The scales and rhythms of a sheet, engraved.
///
/// All of a sheet is engraved in one go; each scale and rhythm is then a
/// picture, which draw.h puts where it belongs.

#ifndef PROFILES_SHEET_STAVES_H
#define PROFILES_SHEET_STAVES_H

#include "core/attributes.h"
#include "core/engrave/engrave.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/sheet/pages.h"
#include "profiles/sheet/sheet.h"

enum { STAVES_CAPACITY = CHART_CHANGE_CAPACITY + 1 + SHEET_RHYTHMS_MOST };

/// Zeroed, there are none; give them to sheet_staves_free().
typedef struct {
  char*         svg; ///< Owned
  unsigned      n;
  EngravedPiece pieces[STAVES_CAPACITY]; ///< Rhythms, then scales: as the
                                         ///< blocks of the pages
} SheetStaves;

/// Engrave the scales and rhythms of a sheet that is laid out; give them back
/// in any case. STATUS_OK or as engrave_svg(), with the fault written.
MUST_USE Status
sheet_staves(SheetStaves*      staves,
             const Sheet*      sheet,
             const SheetPages* pages,
             Fault*            fault);

void
sheet_staves_free(SheetStaves* staves);

#endif // PROFILES_SHEET_STAVES_H
