#include "table.h"

#include <math.h>
#include <stdio.h>

const unsigned table_rungs[N_RUNGS] = {2, 4, 5, 6, 8};

double
table_share(const double some, const double all)
{
  return all > 0.0 ? some / all : (double)NAN;
}

void
table_head(const char* const title)
{
  printf("\n%-42s", title);
  for (unsigned i = 0; i < N_RUNGS; ++i) {
    printf("  rung %u ", table_rungs[i]);
  }
  printf("  must\n");
}

/// Print a value and whether it fails.
static bool
put(const double value, const double least, const double most, const bool must)
{
  const bool fails = must && (value < least || value > most);
  if (isnan(value)) {
    printf("       - ");
  } else {
    printf(" %7.3f%c", value, fails ? '!' : ' ');
  }
  return !fails;
}

bool
table_row(const char* const what,
          const double      values[N_RUNGS],
          const double      least,
          const double      most,
          const unsigned    musts,
          const char* const must)
{
  bool meets = true;
  printf("%-42s", what);
  for (unsigned i = 0; i < N_RUNGS; ++i) {
    meets = put(values[i], least, most, musts >> i & 1U) && meets;
  }
  printf("  %s\n", must);
  return meets;
}

bool
table_value(const char* const what,
            const double      value,
            const double      least,
            const double      most,
            const char* const must)
{
  printf("%-42s", what);
  const bool meets = put(value, least, most, true);
  printf("  %s\n", must);
  return meets;
}
