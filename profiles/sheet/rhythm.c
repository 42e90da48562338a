#include "profiles/sheet/rhythm.h"

#include <assert.h>
#include <stddef.h>

enum {
  SIXTEENTH = TICKS_PER_QUARTER / 4,
  EIGHTH    = TICKS_PER_QUARTER / 2,
  TRIPLET   = TICKS_PER_QUARTER / 3,
  QUARTER   = TICKS_PER_QUARTER,
  DOTTED    = QUARTER + EIGHTH,
  HALF      = 2 * QUARTER,
};

/// What stands on a beat, as a letter of a pattern; a negative length is a
/// rest, 0 ends them.
typedef struct {
  char name;
  bool ties_on; ///< Its last note
  int  lengths[5];
} Cell;

static const Cell simple_cells[] = {
  {'q', false, {QUARTER}},
  {'r', false, {-QUARTER}},
  {'e', false, {EIGHTH, EIGHTH}},
  {'o', false, {-EIGHTH, EIGHTH}},
  {'a', true, {-EIGHTH, EIGHTH}}, // Anticipates the next beat,
  {'A', true, {EIGHTH, EIGHTH}},
  {'T', false, {QUARTER}}, // ... which is held
  {'t', false, {TRIPLET, TRIPLET, TRIPLET}},
  {'s', false, {SIXTEENTH, SIXTEENTH, EIGHTH}},
  {'p', false, {EIGHTH, SIXTEENTH, SIXTEENTH}},
  {'h', false, {HALF}}, // With a -
  {'Q', true, {QUARTER}},
  {'D', false, {DOTTED}}, // With an x
  {'x', true, {EIGHTH}},
  {'X', true, {EIGHTH, EIGHTH}}, // Held, and anticipates
};

static const Cell compound_cells[] = {
  {'q', false, {DOTTED}},
  {'r', false, {-DOTTED}},
  {'e', false, {EIGHTH, EIGHTH, EIGHTH}},
  {'l', false, {QUARTER, EIGHTH}},
  {'o', false, {-QUARTER, EIGHTH}},
  {'A', true, {QUARTER, EIGHTH}},
  {'T', false, {DOTTED}},
  {'s', false, {SIXTEENTH, SIXTEENTH, EIGHTH, EIGHTH}},
  {'Z', false, {EIGHTH, QUARTER}}, // Held, then a new one
};

/// What a pattern shows.
typedef enum {
  SHOWS_BEATS,
  SHOWS_EIGHTHS,
  SHOWS_SWING, ///< More of them
  SHOWS_OFF_BEATS,
  SHOWS_TRIPLETS,
  SHOWS_SIXTEENTHS,
  SHOWS_CROSS,
} Shows;

enum { N_SHOWS = SHOWS_CROSS + 1, LEAST_BEATS = 2 };

/// Two bars, one letter a beat; by what is shown and beats in a bar, from two.
static const char simple_patterns[N_SHOWS][4][12] = {
  [SHOWS_BEATS]      = {"qqqr", "qqrqqr", "qqqrqrqr", "qqqqrqrqrr"},
  [SHOWS_EIGHTHS]    = {"eqqr", "qeqqqr", "qeqreeqr", "qeqereqqrr"},
  [SHOWS_SWING]      = {"eeqr", "eeqeqr", "eeqreqer", "eeqereeqrr"},
  [SHOWS_OFF_BEATS]  = {"eaTr", "oeaTqr", "oeqaTeor", "oeoqaTeqor"},
  [SHOWS_TRIPLETS]   = {"teqr", "otqeqr", "oetqeqtr", "oetqretqor"},
  [SHOWS_SIXTEENTHS] = {"spqr", "oespqr", "oesqepqr", "oesqrepqer"},
  [SHOWS_CROSS]      = {"DxTq", "h-QTqr", "DxTQXTqr", "DxTDxTDxTr"},
};

/// Of two and of four beats.
static const char compound_patterns[N_SHOWS][2][9] = {
  [SHOWS_BEATS]      = {"qqqr", "qqqrqrqr"},
  [SHOWS_EIGHTHS]    = {"eqlr", "leqrelqr"},
  [SHOWS_SWING]      = {"ellr", "leqreelr"},
  [SHOWS_OFF_BEATS]  = {"oATr", "oelATlqr"},
  [SHOWS_TRIPLETS]   = {"oATr", "oelATlqr"},
  [SHOWS_SIXTEENTHS] = {"slqr", "lseqelqr"},
  [SHOWS_CROSS]      = {"AZlr", "AZqrAZlr"},
};

static Shows
newest_of(const RhythmRung* const rung)
{
  return rung->cross_rhythm ? SHOWS_CROSS
         : rung->sixteenths ? SHOWS_SIXTEENTHS
         : rung->triplets   ? SHOWS_TRIPLETS
         : rung->off_beats  ? SHOWS_OFF_BEATS
         : rung->swing      ? SHOWS_SWING
         : rung->eighths    ? SHOWS_EIGHTHS
                            : SHOWS_BEATS;
}

static const char*
pattern_of(const Meter meter, const Shows shows)
{
  const unsigned beats = meter_beats_per_bar(meter);
  return meter_is_compound(meter) ? compound_patterns[shows][beats > 2]
                                  : simple_patterns[shows][beats - LEAST_BEATS];
}

static const Cell*
cell_named(const Cell* const cells, const size_t n_cells, const char name)
{
  for (size_t i = 0; i < n_cells; ++i) {
    if (cells[i].name == name) {
      return &cells[i];
    }
  }
  return NULL; // Part of the cell before
}

/// Write a cell; return where it ends.
static Tick
write_cell(SheetRhythm* const rhythm, const Cell* const cell, Tick tick)
{
  for (unsigned i = 0; cell->lengths[i]; ++i) {
    const int  length  = cell->lengths[i];
    const bool is_rest = length < 0;
    const bool is_last = cell->lengths[i + 1] == 0;
    assert(rhythm->n_marks < SHEET_MARK_CAPACITY);
    rhythm->marks[rhythm->n_marks++] = (SheetMark){
      tick, is_rest ? -length : length, is_rest, cell->ties_on && is_last};
    tick += is_rest ? -length : length;
  }
  return tick;
}

SheetRhythm
sheet_rhythm(const Meter meter, const RhythmRung* const rung)
{
  const bool        is_compound = meter_is_compound(meter);
  const Cell* const cells       = is_compound ? compound_cells : simple_cells;
  const size_t n_cells = is_compound ? sizeof(compound_cells) / sizeof(*cells)
                                     : sizeof(simple_cells) / sizeof(*cells);
  SheetRhythm  rhythm  = {.n_marks = 0};
  Tick         tick    = 0;
  for (const char* at = pattern_of(meter, newest_of(rung)); *at; ++at) {
    const Cell* const cell = cell_named(cells, n_cells, *at);
    tick                   = cell ? write_cell(&rhythm, cell, tick) : tick;
  }
  return rhythm;
}
