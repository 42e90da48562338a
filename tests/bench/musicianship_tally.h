/// @file tests/bench/musicianship_tally.h What a batch of answers comes to.

#ifndef TESTS_BENCH_MUSICIANSHIP_TALLY_H
#define TESTS_BENCH_MUSICIANSHIP_TALLY_H

#include "responder/say/say.h"

#include <stdbool.h>

/// Sums over the answers of one rung; zeroed at first.
typedef struct {
  unsigned n;
  // Each answer
  unsigned n_last_wrong; ///< Neither root nor chord tone
  unsigned n_end_wrong;  ///< Not the root, at the end of a chorus
  unsigned n_hanging;    ///< Notes
  double   least_space;
  double   space;
  unsigned n_full; ///< Answers to calls with under 15 % of space
  double   full_space;
  unsigned n_copies;
  unsigned n_unrelated;
  unsigned n_same; ///< Said before in the chorus
  unsigned n_out_of_range;
  unsigned n_stretches;
  unsigned n_out_of_turn;
  unsigned n_off_level; ///< Complexity far off the rung's
  double   complexity;
  // The batch
  unsigned n_notes;
  unsigned n_bearing;
  unsigned n_on, n_on_bearing; ///< On a beat
  unsigned n_off, n_off_bearing;
  unsigned n_intervals, n_repeats, n_steps, n_thirds, n_wider;
  unsigned n_pairs, n_turns; ///< Pairs of intervals, those that turn round
  double   bars;
  unsigned ends[8]; ///< By eighth of the bar
  unsigned n_last_bar;
  unsigned n_reuse; ///< Moves that keep the rhythm
  double   reuse_rhythm;
  double   reuse_pitch;
  unsigned n_picked; ///< Own call found among 20
} Tally;

/// Add an answer; `history` is of before it.
void
tally_add(Tally*            tally,
          const Answer*     answer,
          const SayRequest* request,
          const SayHistory* history);

/// Print both tables; `columns` rungs. Return whether every must is met.
bool
tally_print(const Tally*       tallies,
            const char* const* names,
            unsigned           columns,
            unsigned           least_different);

#endif // TESTS_BENCH_MUSICIANSHIP_TALLY_H
