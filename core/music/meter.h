/// @file core/music/meter.h Time signatures, their beats and metrical weights.
///
/// In 2/4, 3/4, 4/4 and 5/4 the beat is a quarter; in 6/8 and 12/8 a dotted
/// quarter, three eighths.

#ifndef CORE_MUSIC_METER_H
#define CORE_MUSIC_METER_H

#include "core/attributes.h"
#include "core/status.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

/// A meter, made by meter_parse(); a zeroed Meter is not valid.
typedef struct {
  uint8_t numerator;
  uint8_t denominator;
} Meter;

enum {
  METER_TEXT_CAPACITY     = 8,
  METER_BEATS_PER_BAR_MAX = 5,
  METER_LOWEST_WEIGHT     = -6,
};

/**
   Read `2/4`, `3/4`, `4/4`, `5/4`, `6/8` or `12/8`.

   @param[out] meter Written on success only.
   @return STATUS_OK; STATUS_SYNTAX for anything else.
*/
MUST_USE Status
meter_parse(Meter* meter, const char* text);

const char*
meter_text(Meter meter, char buffer[METER_TEXT_CAPACITY]);

/// Whether a beat is three eighths long.
bool
meter_is_compound(Meter meter);

Tick
meter_beat_ticks(Meter meter);

unsigned
meter_beats_per_bar(Meter meter);

Tick
meter_bar_ticks(Meter meter);

/// Return how long a bar lasts in seconds.
/// @param tempo_bpm Quarters a minute, above 0.
double
meter_bar_seconds(Meter meter, double tempo_bpm);

/**
   Return the metrical weight of a written position: 0 on the first beat of a
   bar, -1 for each level of the division below (Longuet-Higgins & Lee 1984).

   4/4: halves, quarters, eighths, sixteenths are -1, -2, -3, -4. 3/4: quarters
   -1. 6/8: dotted quarters -1, eighths -2. 12/8: half bar -1, dotted quarters
   -2, eighths -3. 5/4: the fourth beat (3 + 2) -1, the others -2. A triplet's
   inner notes are one level below the beat that they divide; anything finer
   than a sixteenth is METER_LOWEST_WEIGHT.

   @param tick From the beginning of any bar; may be negative.
*/
int
meter_weight(Meter meter, Tick tick);

#endif // CORE_MUSIC_METER_H
