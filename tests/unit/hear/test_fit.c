// Both sides of each number that fits a reading to a phrase (fit.c):
// USUAL.lag_sd_ms, ratio_log_sd, surprise, usual_notes, least_ms; and of what
// changing the division costs (beats.c): CHANGE. The numbers were tuned with
// the costs of a reading; what comes of them is worked out by hand.

#include "responder/hear/beats.h"
#include "responder/hear/fit.h"
#include "responder/hear/reading.h"

#include <criterion/criterion.h>

#include <float.h>
#include <math.h>

static const Meter FOUR    = {4, 4};
static const float BEAT_MS = 500.0F;

static HearWork work;

static Reading
reading_of(const Timekeeping usual)
{
  const Expectation expectation = {.usual = usual, .own_price = FLT_MAX};
  return reading_begin(FOUR, (double)BEAT_MS, &expectation);
}

/// What being unusual costs: twice the logarithm of one and a quarter of the
/// square of its standard deviations, which are 6 ms and .15 of the ratio's
/// logarithm.
Test(fit, cost_of_the_unusual)
{
  static const struct {
    double sds, cost;
  } rows[]                = {{0, 0}, {1, 0.446}, {3, 2.357}, {10, 6.516}};
  const Timekeeping usual = {20, 20, 1.5};
  for (unsigned i = 0; i < 4; ++i) {
    Reading reading = reading_of(usual);
    reading.spread  = 1; // Whose logarithm is 0
    reading.lag     = (20 + 6 * (float)rows[i].sds) / BEAT_MS;
    cr_expect_float_eq(
      (double)fit_cost(&reading, 8, usual), rows[i].cost, 0.01);
    if (rows[i].sds < 5) {
      reading.lag      = 20 / BEAT_MS;
      const double off = 1.5 * exp(0.15 * rows[i].sds);
      reading.off_beat = (float)(off / (1 + off));
      cr_expect_float_eq(
        (double)fit_cost(&reading, 8, usual), rows[i].cost, 0.01);
    }
  }
}

/// Twelve notes exactly on their beats: the usual spread has the weight of
/// thirty-six, and less than 4 ms is nobody's.
Test(fit, spread_of_exact_notes)
{
  static const struct {
    double usual_ms, spread_ms;
  } rows[] = {{20, 17.32}, {5, 4.33}, {4, 4}, {1, 4}};
  for (unsigned i = 0; i < 4; ++i) {
    const Timekeeping usual   = {0, rows[i].usual_ms, 1.5};
    Reading           reading = reading_of(usual);
    work.n_onsets             = 12;
    for (unsigned k = 0; k < 12; ++k) {
      work.times[k] = (float)k;
      work.beats[k] = (uint16_t)k;
      work.slots[k] = 0;
      work.grid[k]  = (GridBeat){.line = (float)k, .chosen = 0, .n_held = 1};
    }
    fit_reading(&reading, &work, usual);
    cr_assert_float_eq(
      (double)(reading.spread * BEAT_MS), rows[i].spread_ms, 0.01);
    cr_assert_float_eq((double)reading.lag, 0, 1e-6);
  }
}

/// A beat of a triplet and one of eighths cost what each costs, and a third of
/// a nat for the change.
Test(fit, change_of_division)
{
  static Phrase     phrase;
  static const Tick ticks[] = {0, 320, 640, 960, 1440};
  const Reading     reading = reading_of((Timekeeping){0, 20, 1.5});
  float             cost    = 0;
  phrase                    = (Phrase){.n_notes = 5};
  for (unsigned i = 0; i < 5; ++i) {
    phrase.notes[i].note = (Note){ticks[i], 100, 60, 80};
  }
  beats_list(&work, &phrase, 960, 0, 0.1F);
  cost = beats_read(&work, &reading, FLT_MAX);
  cost -= reading_price(&reading, 2, 3) + reading_price(&reading, 0, 2);
  cr_assert_float_eq(cost, 0.35F, 1e-3F);
}
