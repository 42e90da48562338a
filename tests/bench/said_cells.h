/// @file tests/bench/said_cells.h A cell of the call in the answer: two to five
/// notes known by their steps in time and their directions.

#ifndef TESTS_BENCH_SAID_CELLS_H
#define TESTS_BENCH_SAID_CELLS_H

#include "said_sums.h"

/// Where in the call, or in a phrase of it, a cell stands.
typedef enum { CELL_ANYWHERE, CELL_OPENING, CELL_ENDING } CellPlace;

/// What the answer is to have of it.
typedef struct {
  bool     turned;    ///< Every direction the other way
  bool     any_pitch; ///< The rhythm alone
  bool     moved;     ///< On other pitches
  bool     displaced; ///< At another place in the bar
  bool     first;     ///< With its own first note
  unsigned times;     ///< One after the other, at least
} CellUse;

/// Whether some cell of the call at a place is used so in the answer.
bool
cells_are_used(const Line* call,
               const Line* answer,
               CellPlace   place,
               CellUse     use);

#endif // TESTS_BENCH_SAID_CELLS_H
