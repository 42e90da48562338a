/// @file tests/unit/say/fixture.h Charts, a ladder and calls made for the
/// tests.

#ifndef TESTS_UNIT_SAY_FIXTURE_H
#define TESTS_UNIT_SAY_FIXTURE_H

#include "core/music/chart.h"
#include "core/rng.h"
#include "profiles/ladder/ladder.h"
#include "responder/say/say.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  N_FIXTURE_CHARTS  = 4, ///< Blues, minor blues, two-five-ones, waltz
  FIXTURE_ONE_CHORD = 4, ///< C7 for ever, over C mixolydian
  N_FIXTURE_FORMS   = 7, ///< With a jig, and five beats with no chord
  N_FIXTURE_CALLS   = 6,
};

/// Everything that a request points to; about 1 MiB, so keep it static.
typedef struct {
  Chart      chart;
  Ladder     ladder;
  HearWork   hear_work;
  Thinking   work;
  Phrase     call;
  Ideas      ideas;
  SayHistory history;
  SayRequest request;
  Answer     answer;
} Fixture;

/// The ladder of the trade's own order.
Ladder
fixture_ladder(void);

void
fixture_chart(Chart* chart, unsigned index);

/// Hear a call made by chance: whole phrases in the style of one of
/// N_FIXTURE_CALLS, from quarters to a filled-up line with triplets.
void
fixture_call(Fixture* fixture, unsigned style, unsigned bars, Rng* rng);

/// Make a request of a chart, a call and a rung: two bars in answer to two.
void
fixture_open(Fixture* fixture,
             unsigned chart,
             unsigned style,
             unsigned bars,
             Rung     rung,
             uint64_t seed);

/// Whether the call has a note off the beat without one on both beats about it:
/// such off-beats may come back, whatever the rung.
bool
fixture_call_leans(const Fixture* fixture);

/// Answer after `n_slices` of thinking at most: what holds of every line that
/// is kept holds of the first ones too, and thousands of answers stay quick.
void
fixture_answer(Fixture* fixture, unsigned n_slices, Rng rng);

#endif // TESTS_UNIT_SAY_FIXTURE_H
