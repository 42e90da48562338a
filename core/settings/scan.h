/// @file core/settings/scan.h What can be said of a text before it is parsed.
///
/// libconfig calls every slip a "syntax error", reports a missing quote or
/// brace at the end of the file, takes a number that is too large for another
/// number, and joins two texts with no comma between. One walk over the text
/// beforehand finds these where they begin, and says what would be right.

#ifndef CORE_SETTINGS_SCAN_H
#define CORE_SETTINGS_SCAN_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/status.h"

enum {
  SCAN_VALUE_CAPACITY = 16384, ///< Values in a file
  SCAN_NAME_CAPACITY  = 2048,  ///< Names: libconfig takes quadratic time
  SCAN_DEPTH_CAPACITY = 16,    ///< Brackets within brackets
};

/// The lines of a file's numbers, texts, trues and falses in their order.
/// libconfig itself gives the line of what follows the value.
typedef struct {
  unsigned n_values;
  unsigned lines[SCAN_VALUE_CAPACITY]; ///< 1-based
} ScanLines;

/**
   Look a text over, and smooth it for libconfig.

   Square brackets become round ones (libconfig's arrays refuse 1 beside 2.5,
   its lists do not), and a comma before a closing bracket becomes a blank.

   `@include` is refused: a file says all that it says itself.

   @param[in,out] text UTF-8, ends with NUL.
   @param file Its name in faults.
   @return STATUS_OK; STATUS_SYNTAX or STATUS_FULL with one fault noted and the
   text of no more use.
*/
MUST_USE Status
scan_text(char* text, const char* file, ScanLines* lines, Faults* faults);

#endif // CORE_SETTINGS_SCAN_H
