// Both sides of each number that a reading costs (reading.c, COST): simple and
// compound by division, crowd, crowd_ms, far_off; early_far, early_most,
// early_cost, late_far, late_cost. The costs were tuned on annotated solos;
// which division is the cheapest of all for these beats was worked out by a
// program apart from ours that tries every slot, and a cost half as large again
// or a third smaller would make it another one.

#include "responder/hear/reading.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <float.h>
#include <math.h>

enum { MOST = 14 };

/// The notes of one beat.
typedef struct {
  bool     is_compound;
  bool     swings; ///< Off-beats at .6 of the beat
  unsigned beat_ms;
  unsigned late_ms;
  unsigned spread_ms;
  unsigned n;
  float    times[MOST]; ///< In beats
  unsigned division;    ///< The cheapest
} BeatRow;

ParameterizedTestParameters(reading, divisions)
{
  static BeatRow rows[] = {
    {true,
     false,
     900,
     0,
     30,
     5,
     {0.063F, 0.206F, 0.429F, 0.491F, 0.634F},
     4}, // nine
    {false,
     true,
     500,
     20,
     30,
     4,
     {0.08F, 0.509F, 0.611F, 0.794F},
     5},                                        // a quintuplet
    {false, true, 500, 0, 20, 2, {0, 0.5F}, 3}, // sixteenths
    {true,
     false,
     900,
     0,
     16,
     4,
     {-0.08F, 0.17F, 0.42F, 0.67F},
     2},                                                      // sixteenths
    {false, true, 800, 0, 30, 1, {0.72F}, 2},                 // a triplet
    {false, false, 500, 20, 16, 3, {0.01F, 0.21F, 0.84F}, 4}, // a sextuplet
    {true,
     false,
     1500,
     20,
     8,
     5,
     {0.013F, 0.219F, 0.425F, 0.551F, 0.837F},
     5}, // twelve
    {true,
     false,
     900,
     0,
     30,
     5,
     {0.06F, 0.254F, 0.388F, 0.642F, 0.836F},
     6}, // five
    {false,
     true,
     1000,
     0,
     16,
     6,
     {0.04F, 0.191F, 0.343F, 0.454F, 0.757F, 0.909F},
     6}, // thirty-seconds
    {false,
     false,
     1000,
     0,
     16,
     6,
     {-0.08F, 0.286F, 0.429F, 0.491F, 0.714F, 0.857F},
     8}, // ten
    {true,
     false,
     900,
     0,
     16,
     7,
     {-0.03F, 0.125F, 0.25F, 0.47F, 0.595F, 0.72F, 0.845F},
     8}, // seven
    {true,
     false,
     600,
     0,
     20,
     7,
     {0.06F, 0.143F, 0.286F, 0.489F, 0.631F, 0.714F, 0.917F},
     7}, // eight
    {false,
     true,
     800,
     20,
     20,
     9,
     {0.065F, 0.165F, 0.265F, 0.365F, 0.425F, 0.565F, 0.665F, 0.765F, 0.925F},
     9}, // twelve
    {false,
     false,
     500,
     0,
     16,
     11,
     {0,
      0.091F,
      0.182F,
      0.273F,
      0.364F,
      0.455F,
      0.545F,
      0.636F,
      0.727F,
      0.818F,
      0.909F},
     10},                                       // as many as there are
    {true, false, 1500, 20, 8, 1, {0.513F}, 1}, // two
    {true, false, 900, 0, 30, 3, {-0.05F, 0.515F, 0.722F}, 3},   // four
    {false, false, 375, 20, 30, 3, {0.023F, 0.538F, 0.781F}, 3}, // sixteenths
    {false,
     false,
     375,
     20,
     12,
     4,
     {0.166F, 0.309F, 0.482F, 0.625F},
     7}, // a septuplet
    {true, false, 1500, 20, 20, 4, {0.013F, 0.248F, 0.543F, 0.808F}, 4}, // nine
    {true,
     false,
     900,
     0,
     16,
     8,
     {0, 0.133F, 0.265F, 0.398F, 0.53F, 0.663F, 0.795F, 0.927F},
     7}, // eight
    {true,
     false,
     1200,
     0,
     30,
     8,
     {0, 0.103F, 0.206F, 0.309F, 0.412F, 0.515F, 0.618F, 0.927F},
     9},                                        // ten
    {true, false, 600, 20, 30, 1, {0.593F}, 0}, // eighths
    {false, true, 375, 20, 16, 1, {0.568F}, 1}, // swung eighths
    {true, false, 900, 20, 8, 1, {0.442F}, 1},  // two
    {false, false, 800, 0, 8, 1, {0.59F}, 2},   // a triplet
  };
  return cr_make_param_array(BeatRow, rows, sizeof(rows) / sizeof(*rows));
}

static Reading
reading_of(const bool     is_compound,
           const unsigned beat_ms,
           const unsigned late_ms,
           const unsigned spread_ms)
{
  static const Meter meters[]    = {{4, 4}, {12, 8}};
  const Expectation  expectation = {
     .usual     = {late_ms, spread_ms, 1.5},
     .own_price = FLT_MAX,
  };
  return reading_begin(meters[is_compound], beat_ms, &expectation);
}

ParameterizedTest(BeatRow* row, reading, divisions)
{
  Reading reading =
    reading_of(row->is_compound, row->beat_ms, row->late_ms, row->spread_ms);
  const Onsets onsets = {row->n, row->times, 0};
  unsigned     best   = 0;
  float        least  = FLT_MAX;
  if (!row->is_compound) {
    reading_forbid(&reading, row->swings ? GRID_EIGHTH : GRID_SWUNG_EIGHTH);
  }
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    const float price = reading_price(&reading, g, row->n);
    if (reading.prices[g] < FLT_MAX && price < FLT_MAX) {
      const float cost = price + reading_place(&reading, g, onsets, FLT_MAX);
      best             = cost < least ? g : best;
      least            = cost < least ? cost : least;
    }
  }
  cr_assert_eq(best, row->division, "%u", best);
}

/// What an onset on a beat of a second costs by itself, 20 ms of spread.
static float
on_beat(const double ms, const unsigned late_ms)
{
  const Reading reading = reading_of(false, 1000, late_ms, 20);
  const float   time    = (float)(ms / 1000);
  return reading_place(&reading, 0, (Onsets){1, &time, 0}, FLT_MAX);
}

/// A little early costs hardly anything; beyond two spreads and a half, as far
/// from the usual lateness too, eight nats more.
Test(reading, early_on_the_beat)
{
  cr_assert_float_eq(on_beat(-49, 0), 0.1F, 1e-3F);
  cr_assert_gt(on_beat(-51, 0), 8.0F + 3.0F);
  cr_assert_lt(on_beat(-51, 0), 8.0F + 3.5F);
  cr_assert_float_eq(on_beat(-29, 20), 0.1F, 1e-3F);
}

/// Late by more than three quarters of a spread costs two nats more than the
/// deviation, half its square.
Test(reading, late_on_the_beat)
{
  cr_assert_float_eq(on_beat(14.9, 0), 0.745F * 0.745F / 2, 1e-3F);
  cr_assert_float_eq(on_beat(15.1, 0), 2 + 0.755F * 0.755F / 2, 1e-3F);
}

/// The simplest there is costs next to nothing, and what nobody counts most.
Test(reading, the_ends_of_the_prices)
{
  const Reading simple   = reading_of(false, 2000, 0, 20);
  const Reading compound = reading_of(true, 3000, 0, 20);
  cr_assert_float_eq(reading_price(&simple, 0, 2), 0.4F, 1e-3F);
  cr_assert_float_eq(reading_price(&compound, 10, 14), 12.0F, 1e-3F);
}
