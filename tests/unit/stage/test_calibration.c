#include "responder/stage/calibration.h"

#include <criterion/criterion.h>

#include <stdint.h>

enum { N_CLICKS = 24 };

static const int64_t ms = 1000000;

static int64_t clicks[N_CLICKS];

static void
lay_clicks(void)
{
  for (unsigned i = 0; i < N_CLICKS; ++i) {
    clicks[i] = 5000 * ms + i * 600 * ms;
  }
}

// Taps 20 ms late, every other 10 ms more or less: middle 20, deviation 10
Test(calibration, late_and_spread, .init = lay_clicks)
{
  Calibration found;
  int64_t     taps[N_CLICKS];
  for (unsigned i = 0; i < N_CLICKS; ++i) {
    taps[i] = clicks[i] + (i % 2 ? 10 : 30) * ms;
  }
  cr_assert_eq(calibration_of(&found, clicks, N_CLICKS, taps, N_CLICKS),
               STATUS_OK);
  cr_assert_eq(found.n_taps, N_CLICKS);
  cr_assert_float_eq(found.lag_ms, 20.0, 1e-9);
  cr_assert_float_eq(found.spread_ms, 10.0, 1e-9);
}

// Early taps are negative; some wild ones do not move the middle
Test(calibration, early_with_strays, .init = lay_clicks)
{
  Calibration found;
  int64_t     taps[N_CLICKS];
  for (unsigned i = 0; i < N_CLICKS; ++i) {
    taps[i] = clicks[i] - 35 * ms;
  }
  taps[3]  = clicks[3] + 150 * ms;
  taps[9]  = clicks[9] + 300 * ms; // Between two clicks: it does not count
  taps[17] = clicks[17] - 190 * ms;
  cr_assert_eq(calibration_of(&found, clicks, N_CLICKS, taps, N_CLICKS),
               STATUS_OK);
  cr_assert_eq(found.n_taps, N_CLICKS - 1);
  cr_assert_float_eq(found.lag_ms, -35.0, 1e-9);
}

Test(calibration, too_few, .init = lay_clicks)
{
  Calibration found = {.lag_ms = 7.0};
  int64_t     taps[N_CLICKS];
  for (unsigned i = 0; i < N_CLICKS; ++i) {
    taps[i] = clicks[i] + (i < CALIBRATION_LEAST - 1 ? 5 : 300) * ms;
  }
  cr_assert_eq(calibration_of(&found, clicks, N_CLICKS, taps, N_CLICKS),
               STATUS_MISSING);
  cr_assert_eq(calibration_of(&found, clicks, N_CLICKS, taps, 0),
               STATUS_MISSING);
  cr_assert_float_eq(found.lag_ms, 7.0, 0.0);
}
