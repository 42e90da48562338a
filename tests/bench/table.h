/// @file tests/bench/table.h Rows of figures beside what they must be.

#ifndef TESTS_BENCH_TABLE_H
#define TESTS_BENCH_TABLE_H

#include <stdbool.h>

enum { N_RUNGS = 5 };

extern const unsigned table_rungs[N_RUNGS];

/// Rungs that a must holds for; to be joined by `|`.
enum {
  RUNG_2  = 1,
  RUNG_4  = 2,
  RUNG_5  = 4,
  RUNG_6  = 8,
  RUNG_8  = 16,
  ALL     = 31,
  LOW     = RUNG_2 | RUNG_4,
  FROM_4  = ALL - RUNG_2,
  FROM_5  = RUNG_5 | RUNG_6 | RUNG_8,
  FROM_6  = RUNG_6 | RUNG_8,
  NO_MUST = 0,
};

/// Print the head of a table.
void
table_head(const char* title);

/// Print one row; a value out of its bounds gets a mark. Return whether every
/// rung of `musts` keeps to them. A value that is no number is a dash.
bool
table_row(const char*  what,
          const double values[N_RUNGS],
          double       least,
          double       most,
          unsigned     musts,
          const char*  must);

/// Print one value; as table_row().
bool
table_value(const char* what,
            double      value,
            double      least,
            double      most,
            const char* must);

/// Return some / all; no number if there is nothing.
double
table_share(double some, double all);

#endif // TESTS_BENCH_TABLE_H
