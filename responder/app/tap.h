/// @file responder/app/tap.h The rhythm of an echo given back on the space bar.

#ifndef RESPONDER_APP_TAP_H
#define RESPONDER_APP_TAP_H

#include "responder/session/session.h"
#include "responder/stage/stage.h"

#include <stdbool.h>
#include <stdint.h>

/// Zeroed: nothing sounds. A terminal does not tell when a key goes up.
typedef struct {
  uint8_t pitch; ///< 0: none is down
  int64_t until_ns;
} Tap;

/// Whether a tap is a note now: in an echo, when it is to be given back.
bool
tap_counts(const SessionOptions* session, Tick now);

/// Strike the tonic; return its key.
uint8_t
tap_strike(Tap* tap, Stage* stage, const Chart* chart);

/// Let it go when it has sounded for a while.
void
tap_look(Tap* tap, Stage* stage);

#endif // RESPONDER_APP_TAP_H
