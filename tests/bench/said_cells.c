#include "said_cells.h"

/// Notes. Where the rhythm alone counts, two would be found anywhere.
enum { SHORTEST = 2, SHORTEST_RHYTHM = 3, LONGEST = 6 };

/// The cell of a line that begins with a note.
typedef struct {
  const Line* line;
  unsigned    from;
  unsigned    n;
} Cell;

static bool
is_used_at(const Cell* const cell,
           const Line* const answer,
           const unsigned    at,
           const CellUse     use)
{
  const SaidNote* const from = cell->line->notes[cell->from];
  const SaidNote* const to   = answer->notes[at];
  const int             way  = use.turned ? -1 : 1;
  for (unsigned i = 0; i + 1 < cell->n; ++i) {
    if (line_step(cell->line, cell->from + i) != line_step(answer, at + i) ||
        (!use.any_pitch && line_direction(cell->line, cell->from + i) !=
                             way * line_direction(answer, at + i))) {
      return false;
    }
  }
  return (!use.moved || from->pitch != to->pitch) &&
         (!use.displaced || (to->grid - from->grid) % SAID_BAR != 0);
}

static bool
is_used(const Cell* const cell, const Line* const answer, const CellUse use)
{
  unsigned times = 0;
  unsigned at    = 0;
  while (at + cell->n <= answer->n && (!use.first || at == 0)) {
    const bool is = is_used_at(cell, answer, at, use);
    times += is;
    at += is ? cell->n : 1;
  }
  return times >= use.times;
}

/// Whether an eighth of rest or more, or a step of a beat and a half, divides a
/// note from the next one.
static bool
is_divided(const Line* const line, const unsigned i)
{
  const SaidNote* const note = line->notes[i];
  const SaidNote* const next = line->notes[i + 1];
  return next->tick - note->tick - note->length >= SAID_QUARTER / 2 ||
         line_step(line, i) >= SAID_QUARTER * 3 / 2;
}

static bool
stands_at(const Cell* const cell, const CellPlace place)
{
  const unsigned end = cell->from + cell->n;
  return place == CELL_OPENING
           ? cell->from == 0 || is_divided(cell->line, cell->from - 1)
         : place == CELL_ENDING
           ? end == cell->line->n || is_divided(cell->line, end - 1)
           : true;
}

bool
cells_are_used(const Line* const call,
               const Line* const answer,
               const CellPlace   place,
               const CellUse     use)
{
  const unsigned shortest = use.any_pitch ? SHORTEST_RHYTHM : SHORTEST;
  for (unsigned from = 0; from < call->n; ++from) {
    for (unsigned n = shortest; n <= LONGEST && from + n <= call->n; ++n) {
      const Cell cell = {call, from, n};
      if (stands_at(&cell, place) && is_used(&cell, answer, use)) {
        return true;
      }
    }
  }
  return false;
}
