/// @file tests/bench/ensemble.h How the band goes with who plays above it, as
/// the recording has it.

#ifndef TESTS_BENCH_ENSEMBLE_H
#define TESTS_BENCH_ENSEMBLE_H

#include "core/midi/smf_reader.h"

/// Sums over recordings; zeroed at first.
typedef struct {
  double notes;   ///< Of the partner
  double close;   ///< ... under three semitones above the chords' top
  double unisons; ///< ... on a key of a chord that sounds
  double rest_beats, rest_stabs;     ///< In the partner's rests of a beat
  double busy_beats, busy_stabs;     ///< Where the partner plays
  double triple_beats, triple_stabs; ///< ... three notes a beat and more
  double drums, n_drums;             ///< Velocities
  double chords, n_chords;
  long   last_chord; ///< Ticks from the first marker to the last chord
} Ensemble;

/// Add a recording by its path; false, told on standard error, if it cannot be
/// read.
bool
ensemble_load(Ensemble* ensemble, const char* path);

/// Add a recording; false if it has no tracks of chords, partner and drums.
bool
ensemble_add(Ensemble* ensemble, const SmfTake* take);

#endif // TESTS_BENCH_ENSEMBLE_H
