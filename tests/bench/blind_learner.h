/// @file tests/bench/blind_learner.h Calls that learners might play, invented.
///
/// A rhythm by level, a cell that comes again or a line, pitches of a blues
/// scale that lean on chord tones, an open or a closed end, and human timing.
/// All of it ours: common practice, no source.

#ifndef TESTS_BENCH_BLIND_LEARNER_H
#define TESTS_BENCH_BLIND_LEARNER_H

#include "core/midi/smf.h"
#include "core/rng.h"

#include <stddef.h>

enum { LEARNER_NOTES = 64, N_LEARNER_GROUNDS = 4 };

typedef struct {
  const char* chart; ///< Of the shipped ones
  const char* kind;  ///< `riff, closed`
  unsigned    bars;  ///< Of the call
  double      tempo_bpm;
  size_t      n_notes;
  SmfNote     notes[LEARNER_NOTES];
} LearnerCall;

/// Invent a call at a level, over a blues in major or minor blues scale, a
/// two-five-one in its scale or a minor blues in its own: 0..3; all in C.
LearnerCall
learner_call_on(unsigned ground, unsigned rung, Rng* rng);

/// Invent a call at a level over a blues.
LearnerCall
learner_call(unsigned rung, Rng* rng);

#endif // TESTS_BENCH_BLIND_LEARNER_H
