/// @file responder/lesson/calibrating.h How late a player is heard: clicks, and
/// the taps to them.

#ifndef RESPONDER_LESSON_CALIBRATING_H
#define RESPONDER_LESSON_CALIBRATING_H

#include "core/attributes.h"
#include "core/status.h"
#include "responder/stage/calibration.h"
#include "responder/stage/stage.h"

#include <stdbool.h>
#include <stdint.h>

#define CALIBRATING_TEMPO_BPM 100.0 ///< Unless another is wished for

enum { CALIBRATING_CLICKS = 28 };

/// A row of clicks and the taps to it.
typedef struct {
  int64_t  clicks_ns[CALIBRATING_CLICKS];
  unsigned n_clicked;
  int64_t  taps_ns[CALIBRATION_MOST];
  unsigned n_taps;
} Calibrating;

/// Lay out the clicks from soon on.
void
calibrating_begin(Calibrating* calibrating, double tempo_bpm);

/// Click and listen as far as it has come; false once all of it is over. Call
/// it every 10 ms, on a stage between sessions.
bool
calibrating_go_on(Calibrating* calibrating, Stage* stage);

/// Compare the taps with the clicks; STATUS_OK, or as calibration_of().
MUST_USE Status
calibrating_end(const Calibrating* calibrating, Calibration* found);

#endif // RESPONDER_LESSON_CALIBRATING_H
