/// @file tests/bench/ideas_calls.h Calls to answer: cut from solos, or
/// made by chance.

#ifndef TESTS_BENCH_IDEAS_CALLS_H
#define TESTS_BENCH_IDEAS_CALLS_H

#include "core/settings/chart_file.h"
#include "profiles/ladder/ladder.h"
#include "responder/hear/hear.h"
#include "responder/hear/phrase.h"

enum { CALLS_MOST = 128 };

/// A call, with the chart of itself and of its answer.
typedef struct {
  ChartFile chart;
  double    tempo_bpm;
  Phrase    phrase;
  Tick      turn; ///< Its length, and the answer's
} Call;

typedef struct {
  unsigned n_calls;
  Call     calls[CALLS_MOST];
  HearWork work;
} Calls;

/// Load the fours of a folder of takes: four bars of call, four of answer. A
/// take that cannot be read is told on standard error and left out.
void
calls_load(Calls* calls, const char* folder, const Ladder* ladder);

/// Make calls by chance, in four forms and six styles.
void
calls_make(Calls* calls, const Ladder* ladder);

#endif // TESTS_BENCH_IDEAS_CALLS_H
