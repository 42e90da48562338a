#include "responder/say/weights.h"

// From .18 on, as measured over the same solos as the habits
const TimeWeights time_weights = {
  .steady_rung  = 4.0,
  .widest_swing = 3.5,
  // Weimar Jazz Database, 298 solos, by tempo: under 100, to 140,
  // 180, 240, and above; each row at the middle of its band
  .habits         = {{80.0, 41.0, 37.0},
                     {120.0, 30.0, 28.0},
                     {160.0, 21.0, 25.0},
                     {210.0, 15.0, 22.0},
                     {270.0, 6.0, 19.0}},
  .steady_ms      = 4.0F,
  .share          = 2.0F / 3.0F,
  .after_beat     = 0.18F,
  .after_off_beat = 0.32F,
  .phrase_ms      = 8.0F,
  .reach          = 0.22F,
  .touch_spread   = 0.13F,
  .shortest       = 0.56F,
  .longest        = 0.98F,
  .long_off_beat  = 0.64F};
