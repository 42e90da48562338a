#include "responder/say/planting.h"

#include "responder/say/weights.h"

enum { SPOT_CAPACITY = 96 };

/// Places where a cell may stand.
typedef struct {
  unsigned n;
  Tick     ticks[SPOT_CAPACITY];
  unsigned phrases[SPOT_CAPACITY];
  float    weights[SPOT_CAPACITY];
} Spots;

static Tick
length_of(const Cell* const cell)
{
  return cell->offsets[cell->n_notes - 1];
}

/// Whether a cell has triplets or sixteenths: half a beat later they would be
/// others.
static bool
is_fine(const Frame* const frame, const Cell* const cell)
{
  for (unsigned i = 0; i < cell->n_notes; ++i) {
    const Tick at = frame_in_beat(frame, cell->at + cell->offsets[i]);
    if (at != 0 && at != frame->off) {
      return true;
    }
  }
  return false;
}

/// Whether every note of a cell may stand where it would.
static bool
may_stand(const Frame* const frame, const Cell* const cell, const Tick tick)
{
  for (unsigned i = 0; i < cell->n_notes; ++i) {
    if (!frame_allows(frame, tick + cell->offsets[i])) {
      return false;
    }
  }
  const Tick was = frame_in_beat(frame, cell->at);
  const Tick is  = frame_in_beat(frame, tick);
  return was == is || frame->rhythm->off_beats;
}

/// Add what places one phrase has.
static void
find_spots(Spots* const          spots,
           const Frame* const    frame,
           const Planting* const planting,
           const Span            span,
           const unsigned        phrase)
{
  const CellWeights* const w    = &say_weights.cell;
  const Cell* const        cell = planting->cell;
  const bool               fine = is_fine(frame, cell);
  const Tick               step = fine ? frame->beat : frame->beat - frame->off;
  const Tick               early = frame_in_beat(frame, cell->at - span.from);
  for (Tick t = span.from + (fine ? early : 0);
       t + length_of(cell) <= span.goal;
       t += step) {
    const Tick away    = (t - frame->start - cell->at) % frame->bar;
    const bool traces  = away == 0 && !cell->is_own;
    const bool must_go = planting->displaced && traces;
    if (spots->n == SPOT_CAPACITY || must_go || !may_stand(frame, cell, t)) {
      continue;
    }
    float weight = t == span.from ? w->at_start : w->inside;
    weight       = t + length_of(cell) == span.goal ? w->at_end : weight;
    weight *= !traces              ? 1.0F
              : planting->at_start ? w->first_place
                                   : w->same_place;
    weight *= frame_in_beat(frame, t - frame->start - cell->at) == 0
                ? 1.0F
                : w->other_phase;
    spots->ticks[spots->n]     = t;
    spots->phrases[spots->n]   = phrase;
    spots->weights[spots->n++] = weight;
  }
}

/// Weigh the places again for the second time; return the sum.
static float
weigh_again(Spots* const          spots,
            const Frame* const    frame,
            const Planting* const planting,
            const unsigned        first)
{
  const CellWeights* const w      = &say_weights.cell;
  const Tick               length = length_of(planting->cell);
  float                    total  = 0.0F;
  for (unsigned i = 0; i < spots->n; ++i) {
    const Tick apart = spots->ticks[i] - spots->ticks[first];
    const Tick far   = apart < 0 ? -apart : apart;
    const bool clear = far >= length + frame->off && far % frame->off == 0;
    const bool bar   = planting->riffed && far % frame->bar == 0;
    spots->weights[i] *= !clear                   ? 0.0F
                         : bar                    ? w->bar_apart
                         : far % frame->half == 0 ? w->half_apart
                                                  : 1.0F;
    total += spots->weights[i];
  }
  return total;
}

static void
add_plant(Plants* const      plants,
          const Frame* const frame,
          const Cell* const  cell,
          const Spots* const spots,
          const unsigned     i)
{
  const CellWeights* const w    = &say_weights.cell;
  const Tick               from = spots->ticks[i];
  const Tick tail    = (double)cell->last_length > w->held * (double)frame->beat
                         ? tick_least(cell->last_length, frame->beat)
                         : (Tick)(w->kept_after * (double)frame->off);
  const unsigned n   = plants->n++;
  plants->ticks[n]   = from;
  plants->after[n]   = from - (Tick)(w->kept_before * (double)frame->beat);
  plants->before[n]  = from + length_of(cell) + tail;
  plants->phrases[n] = spots->phrases[i];
}

bool
planting_draw(Plants* const         plants,
              const Frame* const    frame,
              const Plan* const     plan,
              const Planting* const planting,
              Rng* const            rng)
{
  Spots spots = {.n = 0};
  *plants     = (Plants){.n = 0};
  for (unsigned p = 0; p < plan->n_spans; ++p) {
    find_spots(&spots, frame, planting, plan->spans[p], p);
  }
  if (spots.n == 0) {
    return false;
  }
  const bool starts =
    spots.phrases[0] == 0 && spots.ticks[0] == plan->spans[0].from;
  if (planting->at_start && !starts) {
    return false;
  }
  const unsigned first =
    planting->at_start ? 0 : rng_pick(rng, spots.weights, spots.n);
  add_plant(plants, frame, planting->cell, &spots, first);
  if (weigh_again(&spots, frame, planting, first) > 0.0F && planting->twice) {
    add_plant(plants,
              frame,
              planting->cell,
              &spots,
              rng_pick(rng, spots.weights, spots.n));
  }
  return true;
}
