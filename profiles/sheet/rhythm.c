#include "profiles/sheet/rhythm.h"

#include "core/rng.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

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
  SHOWS_BARS, ///< Their first beats
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
  [SHOWS_BARS]       = {"qrqr", "qrrqrr", "qrrrqrrr", "qrrrrqrrrr"},
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
  [SHOWS_BARS]       = {"qrqr", "qrrrqrrr"},
  [SHOWS_BEATS]      = {"qqqr", "qqqrqrqr"},
  [SHOWS_EIGHTHS]    = {"eqlr", "leqrelqr"},
  [SHOWS_SWING]      = {"ellr", "leqreelr"},
  [SHOWS_OFF_BEATS]  = {"oATr", "oelATlqr"},
  [SHOWS_TRIPLETS]   = {"oATr", "oelATlqr"},
  [SHOWS_SIXTEENTHS] = {"slqr", "lseqelqr"},
  [SHOWS_CROSS]      = {"AZlr", "AZqrAZlr"},
};

typedef struct {
  const Cell* cells;
  size_t      n_cells;
  Tick        beat;
} Notation;

static Notation
notation_of(const Meter meter)
{
  const Tick beat = meter_beat_ticks(meter);
  return meter_is_compound(meter)
           ? (Notation){compound_cells,
                        sizeof(compound_cells) / sizeof(*compound_cells),
                        beat}
           : (Notation){simple_cells,
                        sizeof(simple_cells) / sizeof(*simple_cells),
                        beat};
}

static const char*
pattern_of(const Meter meter, const Shows shows)
{
  const unsigned beats = meter_beats_per_bar(meter);
  return meter_is_compound(meter) ? compound_patterns[shows][beats > 2]
                                  : simple_patterns[shows][beats - LEAST_BEATS];
}

static const Cell*
cell_named(const Notation* const notation, const char name)
{
  for (size_t i = 0; i < notation->n_cells; ++i) {
    if (notation->cells[i].name == name) {
      return &notation->cells[i];
    }
  }
  return NULL; // Part of the cell before
}

/// Whether a rung allows how a cell divides its beat.
static bool
allows_cell(const RhythmRung* const rung,
            const Notation* const   notation,
            const Cell* const       cell)
{
  bool is_allowed = true;
  for (unsigned i = 0; cell->lengths[i]; ++i) {
    const int  length  = cell->lengths[i];
    const Tick ticks   = length < 0 ? -length : length;
    const bool divides = ticks % notation->beat != 0;
    is_allowed         = is_allowed && (!divides || rung->eighths) &&
                 (ticks != TRIPLET || rung->triplets) &&
                 (ticks != SIXTEENTH || rung->sixteenths) &&
                 (length > 0 || !divides || rung->off_beats);
  }
  return is_allowed && (!cell->ties_on || rung->off_beats);
}

static unsigned
onsets_of(const Cell* const cell)
{
  unsigned n = 0;
  for (unsigned i = 0; cell->lengths[i]; ++i) {
    n += cell->lengths[i] > 0;
  }
  return n;
}

/// Whether a rung allows all of a pattern of two bars.
static bool
allows_letters(const RhythmRung* const rung,
               const Meter             meter,
               const char* const       letters)
{
  const Notation notation = notation_of(meter);
  unsigned       n_onsets = 0;
  bool           held     = false;
  for (const char* at = letters; *at; ++at) {
    const Cell* const cell = cell_named(&notation, *at);
    if (cell && !allows_cell(rung, &notation, cell)) {
      return false;
    }
    if (cell) {
      n_onsets += onsets_of(cell) - held; // What is held begins nothing
      held = cell->ties_on;
    }
  }
  const double quarters =
    2.0 * (double)meter_bar_ticks(meter) / (double)TICKS_PER_QUARTER;
  return n_onsets <= ceil((double)rung->onsets_per_bar * quarters / 4.0);
}

static bool
allows_pattern(const RhythmRung* const rung,
               const Meter             meter,
               const Shows             shows)
{
  return (shows != SHOWS_CROSS || rung->cross_rhythm) &&
         allows_letters(rung, meter, pattern_of(meter, shows));
}

/// Return the furthest that a rung allows; with so few notes that none is, the
/// first beats alone.
static Shows
furthest_of(const RhythmRung* const rung, const Meter meter)
{
  Shows shows = SHOWS_CROSS;
  while (shows > SHOWS_BARS && (!allows_pattern(rung, meter, shows) ||
                                (shows == SHOWS_SWING && !rung->swing))) {
    --shows;
  }
  return shows;
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

static SheetRhythm
write_letters(const Meter meter, const char* const letters)
{
  const Notation notation = notation_of(meter);
  SheetRhythm    rhythm   = {.n_marks = 0};
  Tick           tick     = 0;
  for (const char* at = letters; *at; ++at) {
    const Cell* const cell = cell_named(&notation, *at);
    tick                   = cell ? write_cell(&rhythm, cell, tick) : tick;
  }
  return rhythm;
}

SheetRhythm
sheet_rhythm(const Meter meter, const RhythmRung* const rung)
{
  return write_letters(meter, pattern_of(meter, furthest_of(rung, meter)));
}

// Drawn

enum { TRIES = 400, LETTERS_MOST = 16 };

/// The letters that may begin, and those that go on after what is held; how
/// often one stands there is how likely it is.
typedef struct {
  const char* free;
  const char* held;
} Urn;

/// Common practice, no source: notes more than rests, quarters most.
static const Urn simple_urn   = {"qqqreeoaAtsph", "Te"};
static const Urn compound_urn = {"qqreellosA", "TZ"};

/// What shows the newest of a rung: one of these is in it.
static const char* const newest[N_SHOWS] = {
  [SHOWS_BARS]       = "q",
  [SHOWS_BEATS]      = "q",
  [SHOWS_EIGHTHS]    = "el",
  [SHOWS_SWING]      = "el",
  [SHOWS_OFF_BEATS]  = "oaA",
  [SHOWS_TRIPLETS]   = "toA",
  [SHOWS_SIXTEENTHS] = "sp",
  [SHOWS_CROSS]      = "aAsp",
};

/// Draw letters for two bars, of what a rung allows; the last beat is a note or
/// rests.
static void
draw_letters(Rng* const              rng,
             const Meter             meter,
             const RhythmRung* const rung,
             char                    letters[LETTERS_MOST])
{
  const Notation   notation = notation_of(meter);
  const Urn* const urn = meter_is_compound(meter) ? &compound_urn : &simple_urn;
  const unsigned   beats = meter_beats_per_bar(meter);
  bool             held  = false;
  unsigned         i     = 0;
  while (i + 1 < 2 * beats) {
    const char* const from    = held ? urn->held : urn->free;
    const char        letter  = from[rng_below(rng, (unsigned)strlen(from))];
    const Cell* const cell    = cell_named(&notation, letter);
    const bool        is_half = cell->lengths[0] == HALF; // Within its bar
    if ((is_half && (i % beats + 1 == beats || i + 2 == 2 * beats)) ||
        (cell->ties_on && i + 2 == 2 * beats) ||
        !allows_cell(rung, &notation, cell)) {
      continue;
    }
    letters[i++] = letter;
    if (is_half) {
      letters[i++] = '-';
    }
    held = cell->ties_on;
  }
  letters[i++] = "rqq"[rng_below(rng, 3)];
  letters[i]   = '\0';
}

static bool
is_new(const SheetRhythm* const rhythm,
       const SheetRhythm* const others,
       const unsigned           n)
{
  for (unsigned i = 0; i < n; ++i) {
    bool is_same = others[i].n_marks == rhythm->n_marks;
    for (unsigned k = 0; is_same && k < rhythm->n_marks; ++k) {
      is_same = others[i].marks[k].length == rhythm->marks[k].length &&
                others[i].marks[k].is_rest == rhythm->marks[k].is_rest;
    }
    if (is_same) {
      return false;
    }
  }
  return true;
}

/// Whether a page is worth a rhythm: it shows the newest, and rests, though not
/// for long before it begins.
static bool
is_worth_reading(const char* const letters, const char* const wanted)
{
  return strpbrk(letters, wanted) && strchr(letters, 'r') &&
         strspn(letters, "r-") < 2;
}

unsigned
sheet_rhythms(const Meter             meter,
              const RhythmRung* const rung,
              const uint64_t          seed,
              const unsigned          n,
              SheetRhythm             rhythms[])
{
  const char* const wanted  = newest[furthest_of(rung, meter)];
  Rng               rng     = rng_seed(seed, 11);
  unsigned          n_found = 0;
  for (unsigned k = 0; k < n * TRIES && n_found < n; ++k) {
    char letters[LETTERS_MOST];
    draw_letters(&rng, meter, rung, letters);
    const SheetRhythm drawn = write_letters(meter, letters);
    if (allows_letters(rung, meter, letters) &&
        is_worth_reading(letters, wanted) && is_new(&drawn, rhythms, n_found)) {
      rhythms[n_found++] = drawn;
    }
  }
  if (!n_found) {
    rhythms[n_found++] = sheet_rhythm(meter, rung);
  }
  return n_found;
}
