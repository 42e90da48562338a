#include "responder/app/warn.h"

#include <stdio.h>

void
warn_of_take(const char* const path, const SmfWarnings* const warnings)
{
  for (size_t i = 0; i < warnings->n; ++i) {
    (void)fprintf(stderr,
                  "barter: %s: byte %u: %s\n",
                  path,
                  (unsigned)warnings->items[i].offset,
                  warnings->items[i].text);
  }
  if (warnings->n_found > warnings->n) {
    (void)fprintf(stderr,
                  "barter: %s: and %zu more of the kind\n",
                  path,
                  warnings->n_found - warnings->n);
  }
}
