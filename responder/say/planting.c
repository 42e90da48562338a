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

/// Whether a note is said some times where the cell would stand.
static bool
is_taken(const Plants* const plants,
         const Frame* const  frame,
         const Cell* const   cell,
         const Tick          tick)
{
  bool taken = false;
  for (unsigned k = 0; k < plants->n; ++k) {
    const Plant* const other = &plants->plants[k];
    taken =
      taken || (tick + prompt_span(cell) > other->tick - frame->off &&
                tick < other->tick + prompt_span(other->cell) + frame->off);
  }
  return taken;
}

/// Add what places one phrase has.
static void
find_spots(Spots* const          spots,
           const Frame* const    frame,
           const Plants* const   said,
           const Planting* const planting,
           const Span            span,
           const unsigned        phrase)
{
  const CellWeights* const w    = &say_weights.cell;
  const Cell* const        cell = planting->cell;
  const bool               fine = prompt_is_fine(cell, frame);
  const Tick               step = fine ? frame->beat : frame->beat - frame->off;
  const Tick               early = frame_in_beat(frame, cell->at - span.from);
  for (Tick t = span.from + (fine ? early : 0);
       t + prompt_span(cell) <= span.goal;
       t += step) {
    const Tick away    = (t - frame->start - cell->at) % frame->bar;
    const bool traces  = away == 0 && !cell->is_own;
    const bool must_go = planting->displaced && traces;
    if (spots->n == SPOT_CAPACITY || must_go || span.bare ||
        !may_stand(frame, cell, t) || is_taken(said, frame, cell, t)) {
      continue;
    }
    float weight = t == span.from ? w->at_start : w->inside;
    weight       = t + prompt_span(cell) == span.goal ? w->at_end : weight;
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
  const Tick               length = prompt_span(planting->cell);
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
          const uint8_t      id,
          const Tick         from,
          const unsigned     phrase)
{
  const CellWeights* const w = &say_weights.cell;
  const Tick tail = (double)cell->last_length > w->held * (double)frame->beat
                      ? tick_least(cell->last_length, frame->beat)
                      : (Tick)(w->kept_after * (double)frame->off);
  plants->plants[plants->n++] =
    (Plant){.cell   = cell,
            .id     = id,
            .tick   = from,
            .after  = from - (Tick)(w->kept_before * (double)frame->beat),
            .before = from + prompt_span(cell) + tail,
            .phrase = phrase};
}

/// Return the phrase that a tick lies in.
static unsigned
phrase_at(const Plan* const plan, const Tick tick)
{
  unsigned p = 0;
  while (p + 1 < plan->n_spans && plan->spans[p + 1].from <= tick) {
    ++p;
  }
  return p;
}

static void
plant_said(Plants* const      plants,
           const Frame* const frame,
           const Plan* const  plan)
{
  for (unsigned i = 0; i < plan->n_said; ++i) {
    const Cell* const said = &plan->said[i];
    add_plant(plants,
              frame,
              said,
              (uint8_t)(PLANT_SAID + i),
              said->at,
              phrase_at(plan, said->at));
  }
}

/// Plant the cell as the phrases that are nothing else; false if it may not
/// stand at one of them.
static bool
plant_stated(Plants* const      plants,
             const Frame* const frame,
             const Plan* const  plan,
             const Cell* const  cell)
{
  bool may = true;
  for (unsigned i = 0; i < plan->n_stated; ++i) {
    const Tick from    = plan->spans[i].from;
    const bool goes_on = i + 1 == plan->n_stated;
    may                = may && may_stand(frame, cell, from);
    add_plant(plants, frame, goes_on ? cell : &plan->head, (uint8_t)i, from, i);
  }
  return may;
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
  if (plan->n_stated > 0) {
    return plant_stated(plants, frame, plan, planting->cell);
  }
  plant_said(plants, frame, plan);
  for (unsigned p = 0; p < plan->n_spans; ++p) {
    find_spots(&spots, frame, plants, planting, plan->spans[p], p);
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
  add_plant(
    plants, frame, planting->cell, 0, spots.ticks[first], spots.phrases[first]);
  if (weigh_again(&spots, frame, planting, first) > 0.0F && planting->twice) {
    const unsigned again = rng_pick(rng, spots.weights, spots.n);
    add_plant(plants,
              frame,
              planting->cell,
              1,
              spots.ticks[again],
              spots.phrases[again]);
  }
  return true;
}
