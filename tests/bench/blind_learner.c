#include "blind_learner.h"

#include "core/tick.h"

#include <math.h>
#include <stdbool.h>

enum { HALF = TICKS_PER_QUARTER / 2, BAR = 4 * TICKS_PER_QUARTER, ONSETS = 10 };

/// Onsets of a bar in half beats, -1 ends them; a row for each level, and how
/// such bars may end a call.
static const signed char bars[4][6][ONSETS] = {
  {{0, 2, 4, -1},
   {0, 4, -1},
   {2, 4, 6, -1},
   {0, 1, 2, 4, -1},
   {0, 2, 3, 4, -1},
   {2, 3, 4, -1}},
  {{0, 1, 2, 4, -1},
   {2, 3, 4, 5, -1},
   {0, 2, 3, 6, -1},
   {0, 1, 2, 3, 4, -1},
   {2, 4, 5, 6, -1},
   {0, 3, 4, -1}},
  {{1, 2, 3, 6, -1},
   {0, 3, 5, -1},
   {1, 3, 4, 5, -1},
   {3, 4, 5, 7, -1},
   {0, 1, 3, 4, 7, -1},
   {2, 3, 5, 6, -1}},
  {{0, 1, 2, 3, 4, 5, 6, -1},
   {1, 2, 3, 4, 5, 7, -1},
   {0, 2, 3, 4, 5, 6, 7, -1},
   {3, 4, 5, 6, 7, -1},
   {1, 3, 4, 5, 6, -1},
   {0, 1, 3, 4, 6, 7, -1}},
};

static const signed char ends[4][4][ONSETS] = {
  {{0, -1}, {0, 2, -1}, {0, 2, 4, -1}, {2, 4, -1}},
  {{0, 1, 2, -1}, {0, 2, -1}, {0, 3, -1}, {2, 3, 4, -1}},
  {{0, 1, 3, -1}, {1, 3, -1}, {0, 3, 4, -1}, {1, 2, 4, -1}},
  {{0, 1, 2, 3, -1}, {1, 2, 3, -1}, {0, 1, 2, 3, 4, -1}, {0, 1, 3, 4, -1}},
};

// The scales, two octaves about middle C
static const unsigned char major_blues[] =
  {57, 60, 62, 63, 64, 67, 69, 72, 74, 75, 76, 79};
static const unsigned char minor_blues[] =
  {58, 60, 63, 65, 66, 67, 70, 72, 75, 77, 79};
static const unsigned char major[] =
  {59, 60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79};
static const unsigned char minor[] =
  {58, 60, 62, 63, 65, 67, 68, 70, 72, 74, 75, 77, 79};

typedef struct {
  const char*          chart;
  const unsigned char* scale;
  unsigned             n;
} Ground;

static const Ground grounds[N_LEARNER_GROUNDS] = {
  {"blues", major_blues, sizeof(major_blues)},
  {"blues", minor_blues, sizeof(minor_blues)},
  {"two-five-one", major, sizeof(major)},
  {"blues-minor", minor, sizeof(minor)},
};

static double
about(Rng* const rng, const double spread)
{
  double sum = 0.0;
  for (unsigned i = 0; i < 12; ++i) {
    sum += rng_unit(rng);
  }
  return (sum - 6.0) * spread;
}

static unsigned
nearest(const Ground* const ground, const unsigned from, const bool closed)
{
  unsigned best  = from;
  unsigned least = 99;
  for (unsigned i = 0; i < ground->n; ++i) {
    const unsigned pc    = ground->scale[i] % 12;
    const bool     right = closed ? pc == 0 : pc == 7 || pc == 4 || pc == 10;
    const unsigned off   = i > from ? i - from : from - i;
    if (right && off < least) {
      least = off;
      best  = i;
    }
  }
  return best;
}

// A step along the scale, small ones most, turned at its ends
static unsigned
stepped(const Ground* const ground, const unsigned from, Rng* const rng)
{
  static const int steps[] = {-2, -1, -1, -1, 1, 1, 1, 2, -3, 3};
  const int        to      = (int)from + steps[rng_below(rng, 10)];
  return to < 0 ? 1 : to >= (int)ground->n ? ground->n - 2 : (unsigned)to;
}

static void
add(LearnerCall* const call,
    const unsigned     bar,
    const int          half,
    const unsigned     pitch,
    Rng* const         rng)
{
  const double ms    = 60000.0 / call->tempo_bpm / TICKS_PER_QUARTER;
  const double swing = half % 2 ? 0.1 * TICKS_PER_QUARTER : 0.0;
  const double late  = (12.0 + about(rng, 11.0)) / ms;
  const Tick tick = (Tick)bar * BAR + half * HALF + (Tick)lround(swing + late);
  call->notes[call->n_notes++] = (SmfNote){
    .tick     = tick < 0 ? 0 : tick,
    .length   = HALF * 4 / 5,
    .pitch    = pitch & 0x7FU,
    .velocity = (70 + rng_below(rng, 25)) & 0x7FU,
  };
}

static void
lengthen(LearnerCall* const call)
{
  for (size_t i = 0; i < call->n_notes; ++i) {
    SmfNote* const note = &call->notes[i];
    const Tick     room =
      i + 1 < call->n_notes ? note[1].tick - note->tick : (Tick)BAR * 2 / 5;
    note->length = (uint32_t)((room < BAR / 2 ? room : BAR / 2) * 85 / 100);
  }
}

LearnerCall
learner_call_on(const unsigned ground_index,
                const unsigned rung,
                Rng* const     rng)
{
  const unsigned level  = rung <= 2 ? 0 : rung == 3 ? 1 : rung == 4 ? 2 : 3;
  const Ground*  ground = &grounds[ground_index];
  const bool     riff   = rng_below(rng, 2) == 0;
  const bool     closed = rng_below(rng, 2) == 0;
  LearnerCall    call   = {
         .chart     = ground->chart,
         .kind      = riff     ? closed ? "riff, closed" : "riff, open"
                      : closed ? "line, closed"
                               : "line, open",
         .bars      = rng_below(rng, 3) ? 2 : 4,
         .tempo_bpm = 84.0 + rng_below(rng, 70),
  };
  const signed char* const first = bars[level][rng_below(rng, 6)];
  unsigned                 at    = 3 + rng_below(rng, ground->n - 5);
  unsigned                 cell[ONSETS];
  for (unsigned bar = 0; bar < call.bars; ++bar) {
    const bool               is_last = bar + 1 == call.bars;
    const signed char* const onsets  = is_last ? ends[level][rng_below(rng, 4)]
                                       : riff && bar ? first
                                       : bar ? bars[level][rng_below(rng, 6)]
                                             : first;
    if (call.bars == 4 && bar == 2 && rng_below(rng, 2)) {
      continue; // A breath
    }
    for (unsigned i = 0; onsets[i] >= 0; ++i) {
      const bool ends_here = is_last && onsets[i + 1] < 0;
      if (riff && bar && i < ONSETS && (!is_last || i < 2) && first[i] >= 0) {
        at = cell[i];
      } else if (call.n_notes) {
        at = stepped(ground, at, rng);
      }
      at = ends_here ? nearest(ground, at, closed) : at;
      if (bar == 0) {
        cell[i] = at;
      }
      add(&call, bar, onsets[i], ground->scale[at], rng);
    }
  }
  lengthen(&call);
  return call;
}

LearnerCall
learner_call(const unsigned rung, Rng* const rng)
{
  const unsigned either_blues = rng_below(rng, 2);
  return learner_call_on(either_blues, rung, rng);
}
