/// @file responder/hear/reading.h One way to read a phrase's rhythm: how beats
/// may be divided, and what it costs to place onsets in one.
///
/// Costs are description lengths in nats; times are in beats unless a name says
/// otherwise.

#ifndef RESPONDER_HEAR_READING_H
#define RESPONDER_HEAR_READING_H

#include "core/music/meter.h"
#include "responder/hear/acquaintance.h"
#include "responder/hear/figures.h"
#include "responder/hear/hear_work.h"

#include <stdint.h>

enum {
  SLOT_CAPACITY = 12, ///< Places in the finest division but the last
};

/// A way to divide a beat.
typedef struct {
  uint8_t        n_slots; ///< 0: as many as there are onsets
  uint8_t        grid;    ///< The Grid that it counts as
  uint8_t        fewest;  ///< Onsets that a beat must hold before it is tried
  const Figures* figures; ///< NULL: any slots are filled as often as others
} Division;

/// What a phrase is read with.
typedef struct {
  const Division* divisions;              ///< GRID_DIVISIONS of them
  float           prices[GRID_DIVISIONS]; ///< Of a beat in each
  /// Where the slots of each sound, but for the lag.
  float  places[GRID_DIVISIONS][SLOT_CAPACITY];
  double beat_ms;
  float  lag;
  float  spread;
  float  off_beat; ///< Where swung off-beats sound
  float  early;    ///< How early a note on the beat may well be, by itself
  float  far;      ///< ... and beside the lag
} Reading;

/// Onsets that one beat is to hold.
typedef struct {
  unsigned     n;
  const float* times; ///< Rising
  float        line;  ///< When the beat begins
} Onsets;

/// Begin with what is expected of the player.
Reading
reading_begin(Meter meter, double beat_ms, const Expectation* expectation);

/// Return how many slots a division gives to `n` onsets.
unsigned
reading_slots(const Reading* reading, unsigned g, unsigned n);

/// Return what a division costs whatever the times are; FLT_MAX if it cannot
/// hold `n` onsets.
float
reading_price(const Reading* reading, unsigned g, unsigned n);

/// Return the least that the times cost on rising slots of a division, which
/// can hold them; FLT_MAX if that is `most` or above.
float
reading_place(const Reading* reading, unsigned g, Onsets onsets, float most);

/// As reading_place(), and write the `onsets.n` slots.
void
reading_slots_of(const Reading* reading,
                 unsigned       g,
                 Onsets         onsets,
                 uint8_t*       slots);

/// Leave out the divisions of a grid.
void
reading_forbid(Reading* reading, Grid grid);

/// Set where swung off-beats sound, a share of the beat.
void
reading_swing(Reading* reading, float off_beat);

/// Return the share of a beat at which an off-beat of a ratio stands.
double
reading_off_beat(double ratio);

#endif // RESPONDER_HEAR_READING_H
