/// @file tests/bench/tally.h What a batch of answers comes to.

#ifndef TESTS_BENCH_TALLY_H
#define TESTS_BENCH_TALLY_H

#include "said_sums.h"
#include "said_words.h"

enum { EIGHTHS = 8 };

/// Sums over the answers of one rung; zeroed at first.
typedef struct {
  bool is_solos; ///< The calls are: rows of theirs must hold
  // The line
  double n, notes, bars, silence, least_space, range, complexity, at_home;
  double last_tone, hanging, out_of_range, out_of_turn, stretches;
  double graces_over_one, without_grace, graces_over_two;
  // What a rung adds
  double outside, runs, wide, triplets, unhurried, sixteenths, threes;
  // Answering
  double cell, cell_by_chance, whole, copies, rhythm, rhythm_by_chance;
  double picked, starts, pickups, arrives, rests, gap, last_bar, most_moved;
  double ends[EIGHTHS]; ///< By eighth of the bar
  double words[N_WORDS + 1];
  double words_true[N_WORDS];
  Counts counts;
} Sums;

/// Add an answer.
void
tally_add(Sums* sums, const Pair* pair);

/// Compare the answer to one of `n` calls with up to 19 of the others.
void
tally_add_others(Sums* sums, const Pair* pairs, unsigned n, unsigned own);

/// Return the share of calls that have the move most used.
double
tally_most_moved(const Pair* pairs, unsigned n);

/// Print what they come to at each rung. Return whether every must is met.
bool
tally_print(const Sums* sums, const char* title);

#endif // TESTS_BENCH_TALLY_H
