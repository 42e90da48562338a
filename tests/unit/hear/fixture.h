/// @file tests/unit/hear/fixture.h Charts, ladders and phrases to listen to.

#ifndef TESTS_UNIT_HEAR_FIXTURE_H
#define TESTS_UNIT_HEAR_FIXTURE_H

#include "core/rng.h"
#include "responder/hear/hear.h"

enum { FIXTURE_NOTE_CAPACITY = 512 };

/// A chart and what is played over it; keep it in place.
typedef struct {
  Chart    chart;
  Ladder   ladder;
  Ear      ear;
  HearWork work;
  Phrase   phrase;
  unsigned n_notes;
  Note     notes[FIXTURE_NOTE_CAPACITY];
  Tick     places[FIXTURE_NOTE_CAPACITY]; ///< Where they are written
  bool     ornaments[FIXTURE_NOTE_CAPACITY];
} Fixture;

/// Begin with a meter, bars parted by `|`, a scale for all, and a tempo. The
/// ladder is the usual one of the trade's rungs.
void
fixture_open(Fixture*    fixture,
             const char* meter,
             const char* bars,
             const char* scale,
             double      tempo_bpm);

/// Add a note where it sounds and is written, velocity 80.
void
fixture_add(Fixture* fixture, Tick tick, Tick length, unsigned pitch);

/// Listen to the notes in the first bars of the chart.
const Phrase*
fixture_hear(Fixture* fixture, unsigned n_bars);

/// Hear them as written at `places`.
const Phrase*
fixture_hear_written(Fixture* fixture, unsigned n_bars);

/// Return ticks that so many milliseconds last.
Tick
fixture_ticks(const Fixture* fixture, double ms);

/// Return a number of mean 0 and standard deviation 1.
double
fixture_gauss(Rng* rng);

#endif // TESTS_UNIT_HEAR_FIXTURE_H
