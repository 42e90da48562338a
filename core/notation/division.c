#include "core/notation/division.h"

#include <stdlib.h>

// From simple to fine; the last takes whatever fits nowhere else. How tuplets
// are written is common practice: as many notes of the value that stands for
// the next fewer parts of the beat.
static const Division simple_divisions[] = {
  {1, 0, 0, 0},
  {2, 0, 0, 0},
  {4, 0, 0, 0},
  {3, 3, 2, VALUE_EIGHTH},
  {6, 6, 4, VALUE_16TH},
  {8, 0, 0, 0},
  {5, 5, 4, VALUE_16TH},
  {7, 7, 4, VALUE_16TH},
  {10, 10, 8, VALUE_32ND},
  {12, 12, 8, VALUE_32ND},
  {16, 0, 0, 0},
};

static const Division compound_divisions[] = {
  {1, 0, 0, 0},
  {3, 0, 0, 0},
  {2, 2, 3, VALUE_EIGHTH},
  {6, 0, 0, 0},
  {4, 4, 6, VALUE_16TH},
  {12, 0, 0, 0},
  {9, 9, 6, VALUE_16TH},
  {8, 8, 12, VALUE_32ND},
  {5, 5, 6, VALUE_16TH},
  {7, 7, 6, VALUE_16TH},
  {10, 10, 12, VALUE_32ND},
  {24, 0, 0, 0},
};

static const Division two_beats = {3, 3, 2, VALUE_QUARTER};

enum {
  N_SIMPLE   = sizeof(simple_divisions) / sizeof(*simple_divisions),
  N_COMPOUND = sizeof(compound_divisions) / sizeof(*compound_divisions),
  ROUNDING   = 1, // Ticks that a written place may be off its slot
  FEW_SLOTS  = 3,
};

static Moment
beat_moments(const Meter meter)
{
  return MOMENTS_PER_TICK * meter_beat_ticks(meter);
}

Moment
division_place(const Division* const division,
               const Meter           meter,
               const Tick            offset)
{
  const Moment slot = beat_moments(meter) / division->slots;
  return (MOMENTS_PER_TICK * offset + slot / 2) / slot * slot;
}

static bool
fits(const Division* const division,
     const Meter           meter,
     const Tick* const     offsets,
     const unsigned        n)
{
  for (unsigned i = 0; i < n; ++i) {
    const Moment off = division_place(division, meter, offsets[i]) -
                       MOMENTS_PER_TICK * offsets[i];
    if (llabs(off) > (Moment)ROUNDING * MOMENTS_PER_TICK) {
      return false;
    }
  }
  return true;
}

const Division*
division_find(const Meter meter, const Tick* const offsets, const unsigned n)
{
  const bool            is_compound = meter_is_compound(meter);
  const Division* const rows =
    is_compound ? compound_divisions : simple_divisions;
  const unsigned n_rows = is_compound ? N_COMPOUND : N_SIMPLE;
  unsigned       row    = 0;
  while (row + 1 < n_rows && !fits(&rows[row], meter, offsets, n)) {
    ++row;
  }
  return &rows[row];
}

const Division*
division_none(const Meter meter)
{
  return meter_is_compound(meter) ? compound_divisions : simple_divisions;
}

const Division*
division_of_two_beats(void)
{
  return &two_beats;
}

bool
division_is_tuplet(const Division* const division)
{
  return division->actual != 0;
}

Moment
division_end_step(const Division* const division, const Meter meter)
{
  const Moment beat = beat_moments(meter);
  if (!division_is_tuplet(division)) {
    return meter_is_compound(meter) ? beat / 3 : beat / 2;
  }
  return division->slots <= FEW_SLOTS ? beat / division->slots : beat;
}
