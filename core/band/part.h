/// @file core/band/part.h What the parts of the band share: notes by part, the
/// bar they write into, and what they know of the bar they are to play.

#ifndef CORE_BAND_PART_H
#define CORE_BAND_PART_H

#include "core/band/feel.h"
#include "core/band/solo.h"
#include "core/music/chart.h"
#include "core/music/note.h"
#include "core/rng.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

/// Who plays a note.
typedef enum {
  PART_PLAYER,
  PART_PARTNER,
  PART_CHORDS,
  PART_BASS,
  PART_DRUMS,
} Part;

enum {
  N_PARTS           = 5,
  BAND_BAR_CAPACITY = 256, ///< Notes of one bar
};

typedef struct {
  Note    note;
  uint8_t part; ///< A Part
} PartNote;

/// The notes of a bar, rising by tick.
typedef struct {
  unsigned n_notes;
  PartNote notes[BAND_BAR_CAPACITY];
} BandBar;

/// How full the band plays.
typedef enum {
  BAND_ROOTS, ///< The root on the first beat only: the player is lost
  BAND_THIN,  ///< The patterns of layer 0
  BAND_FULL,  ///< The patterns of layer 1, skips in the bass, fills
} BandFullness;

/// What a part knows of the bar it is to play.
typedef struct {
  const Chart* chart;
  const Feel*  feel;
  double       tempo_bpm;
  Tick         start; ///< Of the bar; 0 or more but for a count-in
  BandFullness fullness;
  const Solo*  solo; ///< Above it; NULL if nobody listens
} Cue;

/// A note as it is written, before it is swung and played by a human.
typedef struct {
  Part     part;
  Tick     tick;   ///< In the cue's bar
  Tick     length; ///< 1 or more
  unsigned pitch;
  double   velocity; ///< Cut to 1..127
} Written;

/// How a part is played.
typedef struct {
  double swing_ratio;
  double spread_ms;       ///< Earliest to latest, both ways
  double velocity_spread; ///< Softest to loudest, both ways
} Touch;

Tick
cue_bar_ticks(const Cue* cue);

/// Return the end of the bar.
Tick
cue_end(const Cue* cue);

/// Return the number of the bar in the form, from 0.
unsigned
cue_form_bar(const Cue* cue);

/**
   Play a note into a bar: swung, a little off the grid, a little louder or
   softer, and as loud as the soloist asks.

   It begins in the cue's bar, whatever the spread; one written on the bar's
   first beat is at most 2 ms late. It ends where its written end sounds, which
   may be beyond the bar. A note beyond BAND_BAR_CAPACITY is left out.
*/
void
part_play(const Cue*     cue,
          const Touch*   touch,
          Rng*           rng,
          const Written* written,
          BandBar*       bar);

/// Sort a bar by tick; end a note of a part where the next one of the same
/// pitch begins, and make one of two that begin together (within a twentieth of
/// a quarter), as loud as the louder.
void
part_settle(BandBar* bar);

/// Return a number, -width..width, those near 0 more likely (a triangle).
double
part_waver(Rng* rng, double width);

#endif // CORE_BAND_PART_H
