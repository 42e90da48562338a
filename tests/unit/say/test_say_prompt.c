// What of a call is taken up.

#include "fixture.h"

#include "responder/say/prompt.h"

#include <criterion/criterion.h>

enum { BEAT = TICKS_PER_QUARTER, HALF = BEAT / 2, N = 4 };

static Fixture fixture;
static Frame   frame;
static Prompt  call;
static Source  source;

/// Open a call of one phrase; return what its longest cell weighs, and set
/// `n_cells`.
static double
weigh(const Tick gaps[N - 1], const uint8_t pitches[N], unsigned* const n_cells)
{
  const Rung rung = {{4, 4, 4, 1}};
  source          = (Source){.n_notes = N};
  Rng    rng      = rng_seed(1, 1);
  Tick   tick     = 0;
  double most     = 0.0;
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, rung, 1);
  for (unsigned i = 0; i < N; ++i) {
    source.ticks[i]   = tick;
    source.lengths[i] = i + 1 < N ? gaps[i] : BEAT;
    source.pitches[i] = pitches[i];
    tick += i + 1 < N ? gaps[i] : 0;
  }
  frame_open(&frame, &fixture.request, &rng);
  prompt_open(&call, &frame, &source);
  for (unsigned i = 0; i < call.n_cells; ++i) {
    most = (double)call.weights[i] > most ? (double)call.weights[i] : most;
  }
  *n_cells = prompt_is_own(&call) ? 0 : call.n_cells;
  return most;
}

/// Unlike lengths, a leap, a repeated note: what tells a call from others.
Test(say_prompt, a_cell_weighs_by_what_it_tells)
{
  static const Tick    even[]   = {HALF, HALF, HALF};
  static const Tick    odd[]    = {BEAT + HALF, HALF, BEAT};
  static const uint8_t scale[]  = {60, 62, 64, 65};
  static const uint8_t leap[]   = {60, 67, 65, 64};
  static const uint8_t repeat[] = {60, 62, 62, 64};
  unsigned             n        = 0;
  const double         plain    = weigh(even, scale, &n);
  cr_expect_gt(weigh(odd, scale, &n), 2.0 * plain);
  cr_expect_gt(weigh(even, leap, &n), 1.2 * plain);
  cr_expect_gt(weigh(even, repeat, &n), 1.2 * plain);
}

/// Minims running are a phrase; one among quicker notes ends it.
Test(say_prompt, slow_calls_have_cells)
{
  static const Tick    slow[]  = {2 * BEAT, 2 * BEAT, 2 * BEAT};
  static const Tick    ended[] = {BEAT, 2 * BEAT, BEAT};
  static const uint8_t scale[] = {60, 62, 64, 65};
  unsigned             n_slow  = 0;
  unsigned             n_ended = 0;
  (void)weigh(slow, scale, &n_slow);
  (void)weigh(ended, scale, &n_ended);
  cr_expect_gt(n_slow, 0);
  cr_expect_eq(n_ended, 0);
}

/// An opening is the call's, not that of a phrase in its midst; so is an end.
Test(say_prompt, the_call_opens_and_closes_once)
{
  enum { LATER = 4 * BEAT };
  const Rung rung   = {{4, 4, 4, 1}};
  Rng        rng    = rng_seed(1, 1);
  unsigned   n_both = 0;
  source =
    (Source){.n_notes = 6,
             .ticks = {0, HALF, BEAT, LATER, LATER + BEAT, LATER + BEAT + HALF},
             .lengths = {HALF, HALF, HALF, BEAT, HALF, HALF},
             .pitches = {60, 64, 67, 70, 67, 60}};
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, rung, 1);
  frame_open(&frame, &fixture.request, &rng);
  prompt_open(&call, &frame, &source);
  cr_assert_not(prompt_is_own(&call));
  for (unsigned i = 0; i < call.n_cells; ++i) {
    const Cell* const cell = &call.cells[i];
    const bool        both = cell->begins && cell->ends;
    n_both += both ? 1 : 0;
    cr_expect_eq(prompt_opens_with(&call, cell), cell->at == 0);
    cr_expect(!both || prompt_closes_with(&call, cell) == (cell->at != 0));
  }
  cr_expect_eq(n_both, 2); // Phrases of three notes
  prompt_take_own(&call, &frame);
  for (unsigned i = 0; i < call.n_cells; ++i) {
    cr_expect_not(prompt_opens_with(&call, &call.cells[i]));
    cr_expect_not(prompt_closes_with(&call, &call.cells[i]));
  }
}
