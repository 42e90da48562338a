#include "support/writing.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

void
put(Writing* const writing, const char* const format, ...)
{
  va_list args;
  va_start(args, format);
  const size_t room = writing->capacity - writing->n;
  const int    n    = vsnprintf(writing->text + writing->n, room, format, args);
  va_end(args);
  if (n < 0 || (size_t)n >= room) {
    abort();
  }
  writing->n += (size_t)n;
}
