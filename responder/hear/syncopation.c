#include "responder/hear/syncopation.h"

#include <stdbool.h>

enum {
  SHORTEST_SPAN = 60, ///< Ticks; not divided any further
  NO_NOTE       = 1 ///< The weight of no note at all: weights are never over 0
};

/// The walk over the bars, left to right.
typedef struct {
  const Tick* ticks;
  unsigned    n;
  unsigned    next;        ///< The first onset that has not been passed
  int         weight;      ///< Of the last note's place, or NO_NOTE
  Tick        forget_tick; ///< Rests from here on are not set against it
  Tick        bar_ticks;
  int         sum;
} Walk;

/// Part of a bar. The weight is that of its start, the level that of its parts.
typedef struct {
  Tick start;
  Tick length;
  int  weight;
  int  level;
} Span;

static unsigned
onsets_in(const Walk* const walk, const Span span)
{
  unsigned n = 0;
  while (walk->next + n < walk->n &&
         walk->ticks[walk->next + n] < span.start + span.length) {
    ++n;
  }
  return n;
}

static void
meet_rest(Walk* const walk, const Span span)
{
  if (walk->weight != NO_NOTE && span.weight > walk->weight &&
      span.start < walk->forget_tick) {
    walk->sum += span.weight - walk->weight;
  }
}

static void
meet_note(Walk* const walk, const Span span, const Tick bar_start)
{
  walk->weight      = span.weight;
  walk->forget_tick = bar_start + 2 * walk->bar_ticks;
  ++walk->next;
}

/// Whether the onsets in a span lie on its thirds rather than its halves.
static bool
is_in_thirds(const Walk* const walk, const Span span, const unsigned n)
{
  unsigned halves = 0;
  unsigned thirds = 0;
  for (unsigned i = 0; i < n; ++i) {
    const Tick off = walk->ticks[walk->next + i] - span.start;
    halves += off != 0 && off % (span.length / 4) == 0;
    thirds += off != 0 && off % (span.length / 3) == 0;
  }
  return thirds > halves;
}

/// How many parts a span is cut into.
static unsigned
parts_of(const Walk* const walk,
         const Span        span,
         const Meter       meter,
         const unsigned    n_onsets)
{
  const Tick beat = meter_beat_ticks(meter);
  if (span.length > beat) {
    return span.length == 3 * beat ? 3 : 2;
  }
  if (span.length == beat && meter_is_compound(meter)) {
    return 3;
  }
  return is_in_thirds(walk, span, n_onsets) ? 3 : 2;
}

static void
walk_span(Walk* const walk,
          const Span  span,
          const Meter meter,
          const Tick  bar_start)
{
  const unsigned n = onsets_in(walk, span);
  if (n == 0) {
    meet_rest(walk, span);
    return;
  }
  if (n == 1 && walk->ticks[walk->next] == span.start) {
    meet_note(walk, span, bar_start);
    return;
  }
  if (span.length <= SHORTEST_SPAN) { // Finer than any division: a note
    meet_note(walk, span, bar_start);
    walk->next += n - 1;
    return;
  }

  const unsigned n_parts = parts_of(walk, span, meter, n);
  // Five beats are three and two
  const bool is_uneven = span.length == 5 * meter_beat_ticks(meter);
  Span       part      = span;
  part.level           = span.level + 1;
  for (unsigned i = 0; i < n_parts; ++i) {
    part.length =
      is_uneven ? span.length * (i == 0 ? 3 : 2) / 5 : span.length / n_parts;
    part.weight = i == 0 ? span.weight : -part.level;
    walk_span(walk, part, meter, bar_start);
    part.start += part.length;
  }
}

float
syncopation_sum(const Tick* const ticks,
                const unsigned    n,
                const Meter       meter,
                const Tick        start,
                const Tick        end)
{
  Walk walk = {.ticks     = ticks,
               .n         = n,
               .weight    = NO_NOTE,
               .bar_ticks = meter_bar_ticks(meter)};
  while (walk.next < n && ticks[walk.next] < start) {
    walk.weight      = meter_weight(meter, ticks[walk.next]);
    walk.forget_tick = start + walk.bar_ticks;
    ++walk.next;
  }
  for (Tick bar = start; bar < end; bar += walk.bar_ticks) {
    const Span span = {bar, walk.bar_ticks, 0, 0};
    walk_span(&walk, span, meter, bar);
  }
  return (float)walk.sum;
}
