/// @file tests/bench/said_colours.h What an answer holds that a rung adds, and
/// what an answer may never hold.

#ifndef TESTS_BENCH_SAID_COLOURS_H
#define TESTS_BENCH_SAID_COLOURS_H

#include "said.h"

/// Return how many notes are outside: in no chord tone, in no scale of the
/// chord and not in that of the key.
unsigned
colours_outside(const Said* said);

/// Return how many of these are left hanging: not led within a beat by step to
/// a chord tone, straight or by one more note. A blue fifth may go to the
/// fourth, too.
unsigned
colours_hanging(const Said* said);

/// Whether five notes or more go one way by steps of a minor third at most.
bool
colours_has_run(const Said* said);

/// Whether two notes follow each other as sixteenths.
bool
colours_has_pair(const Said* said);

/// Whether the same group of three eighths stands twice, across a bar line, and
/// a third time begins.
bool
colours_has_threes(const Said* said);

/// Return how many pairs of neighbours are wider than a hand, struck within
/// .3 s.
unsigned
colours_stretches(const Said* said, double tempo_bpm, int hand);

/// Return how many notes lie outside a range, overlap their neighbour, begin
/// over a beat and a half before the turn or sound past its end.
unsigned
colours_out_of_range(const Said* said, int lowest, int highest);
unsigned
colours_out_of_turn(const Said* said);

/// Return the share of main notes that are chord tones, or tones the call has.
double
colours_at_home(const Said* said, const Said* call);

#endif // TESTS_BENCH_SAID_COLOURS_H
