/// @file responder/session/tones.h Which keys a note of the partner's may take
/// where it is made to fit: pitch classes as bits, and the keys near by.

#ifndef RESPONDER_SESSION_TONES_H
#define RESPONDER_SESSION_TONES_H

#include "core/music/chart.h"
#include "core/tick.h"
#include "responder/hear/hear.h"

#include <stdbool.h>
#include <stdint.h>

/// The turn that it is for.
typedef struct {
  Ear      ear;
  Tick     start;
  Tick     earliest; ///< Where a pick-up may begin; `start` or before
  Tick     end;
  unsigned lowest; ///< Keys that the partner may use
  unsigned highest;
  Tick     later; ///< The player gives it back so much later; 0: does not
  Tick     home;  ///< The piece is over, and the band at home; 0: not here
} FitTurn;

/// Return the bit of a key's pitch class.
uint16_t
tones_bit(unsigned key);

/// Return the classes that are of a role or a nearer one at a tick.
uint16_t
tones_up_to(const Chart* chart, Tick tick, Role role);

/// Return the class of the root at a tick.
uint16_t
tones_root(const Chart* chart, Tick tick);

/// Whether the band is at home at a tick, whatever the chart has where its form
/// comes round.
bool
tones_is_home(Tick tick, const FitTurn* turn);

/// Return the class to close on at a tick: the root of its chord, or at home
/// the tonic.
uint16_t
tones_closing(Tick tick, const FitTurn* turn);

/// Return the classes to stay open on at a tick: tones of its chord, but
/// neither its root nor the tonic; where there is no chord, the third and the
/// fifth.
uint16_t
tones_open(Tick tick, const FitTurn* turn);

/// Return what goes both at a tick and where it is given back: no avoid note of
/// either chord. A last note lands now, at least.
uint16_t
tones_for_both(Tick tick, bool is_last, const FitTurn* turn);

/// Return the nearest key of some classes within the range; of two the lower;
/// the key itself if there is none.
uint8_t
tones_nearest(uint8_t key, uint16_t classes, const FitTurn* turn);

/// Return the next key of some classes, up (1) or down (-1); the key itself if
/// there is none within a fifth.
uint8_t
tones_onward(uint8_t key, int way, uint16_t classes, const FitTurn* turn);

/// Return a key moved by octaves into the range, of an octave or more.
uint8_t
tones_within(unsigned key, const FitTurn* turn);

#endif // RESPONDER_SESSION_TONES_H
