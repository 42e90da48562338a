#include "responder/hear/beats.h"

#include <assert.h>
#include <float.h>
#include <stdbool.h>

/// Leaving the division of the beat before, in nats.
static const float CHANGE = 0.35F;

static void
add_beat(HearWork* const work, const Tick tick, const Tick beat)
{
  const unsigned n = work->n_beats;
  if (n == 0 || work->grid[n - 1].tick < tick) {
    assert(n < GRID_BEAT_CAPACITY);
    work->grid[n].tick = tick;
    work->grid[n].line = (float)((tick - work->grid[0].tick) / beat);
    ++work->n_beats;
  }
}

/// List the onsets and the beats that they may belong to.
static void
list_onsets(HearWork* const     work,
            const Phrase* const phrase,
            const Tick          beat,
            const Tick          later,
            const Tick          early)
{
  work->n_onsets = 0;
  work->n_beats  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (phrase->notes[i].is_ornament) {
      continue;
    }
    const Tick     tick = phrase->notes[i].note.tick - later;
    const Tick     line = tick_floor(tick, beat);
    const unsigned k    = work->n_onsets++;
    add_beat(work, line, beat);
    if (tick >= line + beat - early) {
      add_beat(work, line + beat, beat);
    }
    work->notes[k] = (uint16_t)i;
    work->times[k] = (float)(tick - work->grid[0].tick) / (float)beat;
  }
}

/// Find how the onsets may be parted at the end of each beat.
static void
list_splits(HearWork* const work, const float early)
{
  unsigned low  = 0; // Onsets surely before the beat's end
  unsigned high = 0; // Onsets before it
  for (unsigned c = 0; c < work->n_beats; ++c) {
    GridBeat* const cell = &work->grid[c];
    const float     end  = cell->line + 1;
    while (low < work->n_onsets && work->times[low] < end - early) {
      ++low;
    }
    while (high < work->n_onsets && work->times[high] < end) {
      ++high;
    }
    if (c + 1 == work->n_beats) {
      low = high = work->n_onsets;
    }
    const unsigned least =
      high >= low + GRID_SPLIT_CAPACITY ? high + 1 - GRID_SPLIT_CAPACITY : low;
    cell->first_split = (uint16_t)least;
    cell->n_splits    = (uint8_t)(high - least + 1);
  }
}

void
beats_list(HearWork* const     work,
           const Phrase* const phrase,
           const Tick          beat,
           const Tick          later,
           const float         early)
{
  list_onsets(work, phrase, beat, later, (Tick)(early * (float)beat));
  list_splits(work, early);
}

/// The cheapest way to have come to a split, for each division.
typedef struct {
  float   costs[GRID_DIVISIONS];
  uint8_t came[GRID_DIVISIONS];
  float   least;
  uint8_t least_came;
} Arrival;

static Arrival
arrive(const HearWork* const work, const unsigned c, const unsigned split)
{
  Arrival arrival = {.least = c == 0 ? 0.0F : FLT_MAX};
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    arrival.costs[g] = c == 0 ? 0.0F : work->grid[c - 1].costs[split][g];
    arrival.came[g]  = (uint8_t)(split * GRID_DIVISIONS + g);
    if (arrival.costs[g] < arrival.least) {
      arrival.least      = arrival.costs[g];
      arrival.least_came = arrival.came[g];
    }
  }
  return arrival;
}

/// A beat without onsets keeps the division of the one before.
static void
pass_over(GridBeat* const cell, const unsigned split, const Arrival* arrival)
{
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    if (arrival->costs[g] < cell->costs[split][g]) {
      cell->costs[split][g] = arrival->costs[g];
      cell->came[split][g]  = arrival->came[g];
    }
  }
}

/// Try the divisions for a beat that holds certain onsets. One that costs more
/// than the best and a change to it cannot be in the best reading.
static void
extend(GridBeat* const      cell,
       const unsigned       split,
       const Reading* const reading,
       const Arrival* const arrival,
       const Onsets         onsets)
{
  const float taken = arrival->least + CHANGE;
  float       most  = FLT_MAX; // The best and a change
  for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
    const bool  stays = arrival->costs[g] <= taken;
    const float from  = stays ? arrival->costs[g] : taken;
    const float price = reading_price(reading, g, onsets.n);
    if (price == FLT_MAX || from + price >= most) {
      continue;
    }
    const float sum  = from + price;
    const float cost = reading_place(reading, g, onsets, most - sum);
    if (cost == FLT_MAX) {
      continue;
    }
    most = sum + cost + CHANGE < most ? sum + cost + CHANGE : most;
    if (sum + cost < cell->costs[split][g]) {
      cell->costs[split][g] = sum + cost;
      cell->came[split][g]  = stays ? arrival->came[g] : arrival->least_came;
    }
  }
}

static void
fill_beat(HearWork* const work, const Reading* const reading, const unsigned c)
{
  GridBeat* const cell = &work->grid[c];
  for (unsigned split = 0; split < cell->n_splits; ++split) {
    for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
      cell->costs[split][g] = FLT_MAX;
    }
  }
  const unsigned first    = c == 0 ? 0 : work->grid[c - 1].first_split;
  const unsigned n_before = c == 0 ? 1 : work->grid[c - 1].n_splits;
  for (unsigned before = 0; before < n_before; ++before) {
    const Arrival  arrival = arrive(work, c, before);
    const unsigned begin   = first + before;
    for (unsigned split = 0; split < cell->n_splits; ++split) {
      const unsigned end = cell->first_split + split;
      if (end < begin || arrival.least == FLT_MAX) {
        continue;
      }
      if (end == begin) {
        pass_over(cell, split, &arrival);
      } else {
        const Onsets onsets = {end - begin, &work->times[begin], cell->line};
        extend(cell, split, reading, &arrival, onsets);
      }
    }
  }
}

/// Return the division in which the cheapest reading ends.
static unsigned
last_division(const HearWork* const work)
{
  const float* const costs = work->grid[work->n_beats - 1].costs[0];
  unsigned           best  = 0;
  for (unsigned g = 1; g < GRID_DIVISIONS; ++g) {
    best = costs[g] < costs[best] ? g : best;
  }
  return best;
}

float
beats_change(void)
{
  return CHANGE;
}

/// Return the least that any reading up to a beat costs.
static float
least_so_far(const GridBeat* const cell)
{
  float least = FLT_MAX;
  for (unsigned split = 0; split < cell->n_splits; ++split) {
    for (unsigned g = 0; g < GRID_DIVISIONS; ++g) {
      least = cell->costs[split][g] < least ? cell->costs[split][g] : least;
    }
  }
  return least;
}

float
beats_read(HearWork* const work, const Reading* const reading, const float most)
{
  for (unsigned c = 0; c < work->n_beats; ++c) {
    fill_beat(work, reading, c);
    if (least_so_far(&work->grid[c]) >= most) {
      return FLT_MAX;
    }
  }
  return work->grid[work->n_beats - 1].costs[0][last_division(work)];
}

void
beats_trace(HearWork* const work, const Reading* const reading)
{
  unsigned split = 0;
  unsigned g     = last_division(work);
  for (unsigned c = work->n_beats; c-- > 0;) {
    GridBeat* const cell   = &work->grid[c];
    const unsigned  before = cell->came[split][g] / GRID_DIVISIONS;
    const unsigned  end    = cell->first_split + split;
    const unsigned  begin = c == 0 ? 0 : work->grid[c - 1].first_split + before;
    cell->chosen          = (uint8_t)g;
    cell->n_held          = (uint16_t)(end - begin);
    g                     = cell->came[split][g] % GRID_DIVISIONS;
    split                 = before;
    if (end > begin) {
      const Onsets onsets = {end - begin, &work->times[begin], cell->line};
      reading_slots_of(reading, cell->chosen, onsets, &work->slots[begin]);
    }
    for (unsigned k = begin; k < end; ++k) {
      work->beats[k] = (uint16_t)c;
    }
  }
}
