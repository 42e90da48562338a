/// @file responder/stage/calibration.h How late a player is heard, by taps to a
/// click.

#ifndef RESPONDER_STAGE_CALIBRATION_H
#define RESPONDER_STAGE_CALIBRATION_H

#include "core/attributes.h"
#include "core/status.h"

#include <stdint.h>

enum {
  CALIBRATION_MOST  = 256, ///< Taps that are looked at
  CALIBRATION_LEAST = 8,   ///< Taps that must be there
};

/// What taps tell.
typedef struct {
  unsigned n_taps;    ///< That were near a click
  double   lag_ms;    ///< The middle one: late is positive
  double   spread_ms; ///< Standard deviation about it
} Calibration;

/**
   Compare taps with clicks.

   Each tap belongs to the nearest click, and counts if it is within a third of
   the time between two of them: a tap between two clicks says nothing.

   @param clicks_ns Rising, evenly spaced, 2 or more.
   @param[out] calibration Written on success only.
   @return STATUS_OK, or STATUS_MISSING if fewer than CALIBRATION_LEAST count.
*/
MUST_USE Status
calibration_of(Calibration*   calibration,
               const int64_t* clicks_ns,
               unsigned       n_clicks,
               const int64_t* taps_ns,
               unsigned       n_taps);

#endif // RESPONDER_STAGE_CALIBRATION_H
