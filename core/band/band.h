/// @file core/band/band.h Chords, bass and drums over a chart, bar by bar.

#ifndef CORE_BAND_BAND_H
#define CORE_BAND_BAND_H

#include "core/attributes.h"
#include "core/band/feel.h"
#include "core/music/chart.h"
#include "core/music/note.h"
#include "core/music/path.h"
#include "core/rng.h"
#include "core/status.h"
#include "core/tick.h"

#include <stdint.h>

/// Who plays a note.
typedef enum
{
  PART_PLAYER,
  PART_PARTNER,
  PART_CHORDS,
  PART_BASS,
  PART_DRUMS,
} Part;

enum
{
  N_PARTS           = 5,
  BAND_BAR_CAPACITY = 256, ///< Notes of one bar
  BAND_VOICES       = 4,   ///< Notes of a comping chord
};

typedef struct
{
  Note    note;
  uint8_t part; ///< A Part
} PartNote;

/// How full the band plays.
typedef enum
{
  BAND_ROOTS, ///< The root on the first beat only: the player is lost
  BAND_THIN,  ///< One layer less
  BAND_FULL,
} BandFullness;

/// A band in the middle of playing; about 250 KiB, keep it in place.
typedef struct
{
  const Chart* chart;
  const Feel*  feel;
  double       tempo_bpm;
  Rng          rng;
  uint8_t      voicing[BAND_VOICES]; ///< The last chord's pitches
  unsigned     n_voices;
  uint8_t      bass_pitch; ///< The last bass note; 0 before the first
  PathProblem  problem;    ///< Room for the walking bass
  PathSolver   solver;
} Band;

/// The notes of a bar, rising by tick.
typedef struct
{
  unsigned n_notes;
  PartNote notes[BAND_BAR_CAPACITY];
} BandBar;

/// Make a band ready; chart and feel are kept by address and must outlive it.
void band_begin(Band*        band,
                const Chart* chart,
                const Feel*  feel,
                double       tempo_bpm,
                Rng          rng);

/**
   Play a bar: every note begins in it, swung and human as the feel asks.

   Bars are asked for in order, since lines go on from one to the next.

   @param start The first tick of the bar; a multiple of the bar's length.
   @param[out] bar Written whole.
*/
RT_SAFE void band_play_bar(Band*        band,
                           Tick         start,
                           BandFullness fullness,
                           BandBar*     bar);

/**
   Count in: sticks on each beat of the bar before `start`, two bars when one is
   shorter than 1.6 s; the first of two on beats one and (in four) three.

   @return The number of bars, 1 or 2; `bar` holds all of it, with ticks from
   `start` minus that many bars.
*/
RT_SAFE unsigned band_count_in(const Band* band, Tick start, BandBar* bar);

/// End together on `start`: the tonic's chord, its root in the bass, one
/// stroke; all of it ends within the bar.
RT_SAFE void band_end(Band* band, Tick start, BandBar* bar);

#endif // CORE_BAND_BAND_H
