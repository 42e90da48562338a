#include "core/notation/split.h"

#include <stdbool.h>

// The finest place that is looked at
static const Tick FINEST = TICKS_PER_QUARTER / 16;

static Tick
tick_of(const Moment moment)
{
  return moment / MOMENTS_PER_TICK;
}

// The metrical weight, below the sixteenth too
static int
weight_of(const Meter meter, const Tick tick)
{
  const Tick sixteenth = TICKS_PER_EIGHTH / 2;
  if (tick % sixteenth == 0) {
    return meter_weight(meter, tick);
  }
  const int of_sixteenth = meter_weight(meter, sixteenth);
  return tick % (sixteenth / 2) == 0 ? of_sixteenth - 1 : of_sixteenth - 2;
}

// The strongest place inside a span; of equal ones the first, or the last if
// the span begins on a stronger one
static Tick
strongest_inside(const Meter meter, const Tick start, const Tick end)
{
  const int from   = weight_of(meter, start);
  Tick      place  = start + FINEST - start % FINEST;
  int       weight = weight_of(meter, place);
  for (Tick tick = place + FINEST; tick < end; tick += FINEST) {
    const int there = weight_of(meter, tick);
    if (there > weight || (there == weight && there < from)) {
      place  = tick;
      weight = there;
    }
  }
  return place;
}

// Whether a note across a stronger place is one of the usual syncopations:
// eighth - quarter - eighth, or eighth - dotted quarter, in a group that begins
// and ends on something stronger still
static bool
is_syncopation(const Meter meter,
               const Tick  start,
               const Tick  place,
               const Tick  end)
{
  const int  weight = weight_of(meter, place);
  const Tick before = place - start;
  const Tick after  = end - place;
  if (weight_of(meter, start) != weight - 1) {
    return false;
  }
  return before == after ||
         (after == 2 * before && weight_of(meter, start - before) > weight &&
          weight_of(meter, end) > weight);
}

// Three and two are never joined, nor are beats of three eighths but whole
static bool
joins_groups(const Meter meter, const Tick start, const Tick place, Tick end)
{
  const Tick beat = meter_beat_ticks(meter);
  if (meter_is_compound(meter)) {
    return place % beat == 0 && (start % beat != 0 || end % beat != 0);
  }
  return meter.numerator == 5 && weight_of(meter, place) == -1;
}

static bool
is_readable(const Meter meter, const Tick start, const Tick place, Tick end)
{
  if (joins_groups(meter, start, place, end)) {
    return false;
  }
  return weight_of(meter, place) <= weight_of(meter, start) ||
         is_syncopation(meter, start, place, end);
}

Moment
split_note(const Meter meter, const Moment start, const Moment end)
{
  const Tick from = tick_of(start);
  Tick       to   = tick_of(end);
  Value      value;
  while (to - from > FINEST) {
    const Tick place = strongest_inside(meter, from, to);
    if (value_find(&value, (to - from) * MOMENTS_PER_TICK) &&
        is_readable(meter, from, place, to)) {
      break;
    }
    to = place;
  }
  return to * MOMENTS_PER_TICK;
}

// Whether a plain or dotted rest of this length may begin at a place
static bool
may_rest(const Meter meter, const Tick start, const Tick length)
{
  const Tick beat = meter_beat_ticks(meter);
  if (meter_is_compound(meter)) {
    return start % (length == TICKS_PER_QUARTER ? beat : length) == 0;
  }
  if (length == 2 * TICKS_PER_QUARTER) {
    return meter.numerator == 5   ? start == 3 * beat
           : meter.numerator == 4 ? start % length == 0
                                  : false;
  }
  return start % length == 0;
}

Moment
split_rest(const Meter meter, const Moment start, const Moment end)
{
  // The only dotted rests are whole beats
  static const Value simple[]   = {{VALUE_HALF, 0},
                                   {VALUE_QUARTER, 0},
                                   {VALUE_EIGHTH, 0},
                                   {VALUE_16TH, 0},
                                   {VALUE_32ND, 0}};
  static const Value compound[] = {{VALUE_HALF, 1},
                                   {VALUE_QUARTER, 1},
                                   {VALUE_QUARTER, 0},
                                   {VALUE_EIGHTH, 0},
                                   {VALUE_16TH, 0},
                                   {VALUE_32ND, 0}};

  const bool         is_compound = meter_is_compound(meter);
  const Value* const values      = is_compound ? compound : simple;
  const unsigned n_values = is_compound ? sizeof(compound) / sizeof(*compound)
                                        : sizeof(simple) / sizeof(*simple);
  for (unsigned i = 0; i < n_values; ++i) {
    const Moment length = value_length(values[i]);
    if (start + length <= end &&
        may_rest(meter, tick_of(start), tick_of(length))) {
      return start + length;
    }
  }
  return start + value_length((Value){VALUE_64TH, 0});
}
