#include "responder/lesson/notices.h"

#include <stdarg.h>
#include <stdio.h>

void
notices_add(Notices* const notices, const char* const format, ...)
{
  va_list args;
  if (notices->n == NOTICES_CAPACITY) {
    return;
  }
  va_start(args, format);
  (void)vsnprintf(notices->lines[notices->n++], NOTICES_LINE, format, args);
  va_end(args);
}
