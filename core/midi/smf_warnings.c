#include "core/midi/smf_warnings.h"

#include <stdarg.h>
#include <stdio.h>

void
smf_warn(SmfWarnings* const warnings,
         const size_t       offset,
         const char* const  format,
         ...)
{
  if (!warnings) {
    return;
  }

  ++warnings->n_found;
  if (warnings->n < SMF_WARNINGS_CAPACITY) {
    SmfWarning* const warning = &warnings->items[warnings->n++];
    va_list           args;
    va_start(args, format);
    (void)vsnprintf(warning->text, sizeof(warning->text), format, args);
    va_end(args);
    warning->offset = (uint32_t)offset;
  }
}
