#include "responder/stage/calibration.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static const double near = 1.0 / 3.0; ///< Of the time between two clicks

static int
compare(const void* const left, const void* const right)
{
  const double a = *(const double*)left;
  const double b = *(const double*)right;
  return (a > b) - (a < b);
}

static double
lateness_ms(const int64_t* const clicks_ns,
            const unsigned       n_clicks,
            const int64_t        tap_ns)
{
  int64_t best = tap_ns - clicks_ns[0];
  for (unsigned i = 1; i < n_clicks; ++i) {
    const int64_t late = tap_ns - clicks_ns[i];
    best               = llabs(late) < llabs(best) ? late : best;
  }
  return (double)best / 1e6;
}

static double
middle(const double* const sorted, const unsigned n)
{
  return (sorted[(n - 1) / 2] + sorted[n / 2]) / 2.0;
}

Status
calibration_of(Calibration* const   calibration,
               const int64_t* const clicks_ns,
               const unsigned       n_clicks,
               const int64_t* const taps_ns,
               const unsigned       n_taps)
{
  assert(n_clicks >= 2);
  const double most_ms = near * (double)(clicks_ns[1] - clicks_ns[0]) / 1e6;
  double       late[CALIBRATION_MOST];
  unsigned     n = 0;
  for (unsigned i = 0; i < n_taps && n < CALIBRATION_MOST; ++i) {
    const double ms = lateness_ms(clicks_ns, n_clicks, taps_ns[i]);
    if (fabs(ms) <= most_ms) {
      late[n++] = ms;
    }
  }
  if (n < CALIBRATION_LEAST) {
    return STATUS_MISSING;
  }
  qsort(late, n, sizeof(*late), compare);
  const double lag = middle(late, n);
  double       sum = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    sum += (late[i] - lag) * (late[i] - lag);
  }
  *calibration = (Calibration){n, lag, sqrt(sum / n)};
  return STATUS_OK;
}
