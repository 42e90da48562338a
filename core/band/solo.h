/// @file core/band/solo.h What the band hears of who plays above it.
///
/// A value that is filled in before a bar is made: the line that will sound
/// over it where that is known, else what is to be expected. The band plays
/// the same when it hears the same.

#ifndef CORE_BAND_SOLO_H
#define CORE_BAND_SOLO_H

#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  SOLO_CAPACITY   = 128, ///< Notes near one bar
  SOLO_LOUDER     = 12,  ///< The most that the band is louder or softer
  SOLO_ANY_PITCH  = 127, ///< Of a note whose pitch is not known yet
  SOLO_NO_ACCENT  = -1,
  SOLO_CLEARANCE  = 3, ///< Semitones that chords keep below a line
  SOLO_BUSY_NOTES = 3, ///< So many in a beat leave no room for a chord
};

/// A note of the line, as it sounds.
typedef struct {
  Tick    begin;
  Tick    end;
  uint8_t pitch;
} SoloNote;

/// Zeroed but for the accent, nothing is heard.
typedef struct {
  unsigned n_notes;
  SoloNote notes[SOLO_CAPACITY]; ///< Rising by `begin`
  int      louder;               ///< Added to velocities, within SOLO_LOUDER
  Tick accent; ///< Where in a bar the call's last accent stood, as written, or
               ///< SOLO_NO_ACCENT
  bool leads_on; ///< The next bar begins a turn that the player begins
} Solo;

/// Return a solo of which nothing is heard.
Solo
solo_silent(void);

/// Add a note in its place; those beyond the capacity are left out.
void
solo_add(Solo* solo, SoloNote note);

/// Whether some beat's length that holds a tick has SOLO_BUSY_NOTES onsets.
bool
solo_is_busy(const Solo* solo, Tick tick, Tick beat);

/// Whether a tick lies in a rest of a beat or more.
bool
solo_rests(const Solo* solo, Tick tick, Tick beat);

/**
   Find the first rest of a beat or more in a span.

   Only what lies in the span counts.

   @param[in,out] from Where to look from; then where the rest begins.
   @param[out] to Where it ends; written when true comes back.
   @return Whether there is one.
*/
bool
solo_next_rest(const Solo* solo,
               Tick*       from,
               Tick        span_end,
               Tick        beat,
               Tick*       to);

/// Return the highest pitch that leaves SOLO_CLEARANCE under all notes that
/// sound in a span; `highest` at the most.
unsigned
solo_ceiling(const Solo* solo, Tick from, Tick to, unsigned highest);

/// Return where a chord with this top note must be gone: where the line comes
/// down to it, from `from` on, or at `to`.
Tick
solo_comes_down(const Solo* solo, Tick from, Tick to, unsigned top);

/**
   Return how much louder the band plays for a player this loud.

   @param velocity Mean of the player's last turn; 0 if nothing was played.
*/
int
solo_louder(double velocity);

#endif // CORE_BAND_SOLO_H
