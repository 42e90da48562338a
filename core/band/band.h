/// @file core/band/band.h Chords, bass and drums over a chart, bar by bar.

#ifndef CORE_BAND_BAND_H
#define CORE_BAND_BAND_H

#include "core/band/bass.h"
#include "core/band/comping.h"
#include "core/band/drums.h"
#include "core/band/feel.h"
#include "core/band/part.h"
#include "core/band/solo.h"
#include "core/music/chart.h"
#include "core/rng.h"
#include "core/tick.h"

/// A band in the middle of playing; about 500 KiB, keep it in place.
typedef struct {
  const Chart* chart;
  const Feel*  feel;
  double       tempo_bpm;
  Rng          rng;
  Chord        tonic; ///< That the band ends on
  Solo         solo;  ///< What it hears
  Comping      comping;
  Bass         bass;
  Drums        drums;
} Band;

/**
   Make a band ready; chart and feel are kept by address and must outlive it.

   @param chart Has bars, and its meter fits the feel (feel_fits()).
   @param tempo_bpm Quarters a minute, above 0.
*/
void
band_begin(Band*        band,
           const Chart* chart,
           const Feel*  feel,
           double       tempo_bpm,
           Rng          rng);

/// Play on at another tempo: what swings by it does so from the next bar on.
/// @param tempo_bpm As above.
void
band_change_tempo(Band* band, double tempo_bpm);

/// Hear who plays above the band; it holds until the next is heard.
void
band_hear(Band* band, const Solo* solo);

/**
   Play a bar: every note begins in it, swung and human as the feel asks.

   Bass and drums end in it; a chord may be held into the next. No two notes of
   a part that have the same pitch sound together.

   Bars are asked for in order, since lines go on from one to the next.

   @param start The first tick of the bar, 0 or more; a multiple of the bar's
   length.
   @param[out] bar Written whole.
*/
void
band_play_bar(Band* band, Tick start, BandFullness fullness, BandBar* bar);

/**
   Count in: sticks on each beat of the bar before `start`, two bars when one is
   shorter than 1.6 s; the first of two on beats one and (in four) three.

   @return The number of bars, 1 or 2; `bar` holds all of it, with ticks from
   `start` minus that many bars.
*/
unsigned
band_count_in(const Band* band, Tick start, BandBar* bar);

/// End together on `start`: the tonic's chord, its root in the bass, one
/// stroke; all of it ends within the bar.
void
band_end(Band* band, Tick start, BandBar* bar);

#endif // CORE_BAND_BAND_H
