#include "core/notation/beams.h"

enum { EIGHTHS_IN_HALF = 4 };

static unsigned
n_beams(const Symbol* const symbol)
{
  return symbol->column && symbol->value.type <= VALUE_EIGHTH
           ? (unsigned)VALUE_EIGHTH + 1U - symbol->value.type
           : 0U;
}

// Beams the symbols from `first` up to `last`, which all have some
static void
beam_group(Symbol* const symbols, const unsigned first, const unsigned last)
{
  for (unsigned i = first; i < last && last - first > 1; ++i) {
    const unsigned before = i > first ? n_beams(&symbols[i - 1]) : 0;
    const unsigned after  = i + 1 < last ? n_beams(&symbols[i + 1]) : 0;
    for (unsigned level = 0; level < n_beams(&symbols[i]); ++level) {
      const bool from         = before > level;
      const bool to           = after > level;
      Beam       beam         = from && to  ? BEAM_CONTINUE
                                : from      ? BEAM_END
                                : to        ? BEAM_BEGIN
                                : i > first ? BEAM_BACKWARD
                                            : BEAM_FORWARD;
      symbols[i].beams[level] = (uint8_t)beam;
    }
  }
}

static bool
is_plain_eighth(const Symbol* const symbol)
{
  return symbol->column && symbol->value.type == VALUE_EIGHTH &&
         !symbol->value.dots && !symbol->actual;
}

// Whether four plain eighths fill the half bar that begins with a symbol
static bool
fills_half_bar(const Measure* const measure,
               const unsigned       first,
               const Meter          meter,
               const Moment         offset)
{
  const Moment half = 2 * (Moment)MOMENTS_PER_QUARTER;
  if (meter_is_compound(meter) || meter.numerator % 2 != 0 ||
      (offset + measure->symbols[first].start) % half != 0 ||
      first + EIGHTHS_IN_HALF > measure->n_symbols) {
    return false;
  }
  for (unsigned i = first; i < first + EIGHTHS_IN_HALF; ++i) {
    if (!is_plain_eighth(&measure->symbols[i])) {
      return false;
    }
  }
  return true;
}

// The symbol after the group that a symbol begins
static unsigned
group_end(const Measure* const measure,
          const unsigned       first,
          const Meter          meter,
          const Moment         offset)
{
  const Moment beat = MOMENTS_PER_TICK * meter_beat_ticks(meter);
  const Moment here = (offset + measure->symbols[first].start) / beat;
  unsigned     end  = first + 1;
  while (end < measure->n_symbols && n_beams(&measure->symbols[end]) &&
         (offset + measure->symbols[end].start) / beat == here) {
    ++end;
  }
  return end;
}

void
beams_write(Measure* const measure, const Meter meter, const Moment offset)
{
  for (unsigned i = 0; i < measure->n_symbols;) {
    unsigned end = i + 1;
    if (n_beams(&measure->symbols[i])) {
      end = fills_half_bar(measure, i, meter, offset)
              ? i + EIGHTHS_IN_HALF
              : group_end(measure, i, meter, offset);
      beam_group(measure->symbols, i, end);
    }
    i = end;
  }
}
