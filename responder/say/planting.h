/// @file responder/say/planting.h Where a cell of the call stands in an answer.

#ifndef RESPONDER_SAY_PLANTING_H
#define RESPONDER_SAY_PLANTING_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/plan.h"
#include "responder/say/prompt.h"

#include <stdbool.h>

/// How a cell is to stand in the answer.
typedef struct {
  const Cell* cell;
  bool        twice;
  bool        at_start;  ///< The answer begins with it
  bool        displaced; ///< Elsewhere in the bar than in the call
  bool        riffed;    ///< Best a bar apart
} Planting;

enum { PLANT_CAPACITY = PLAN_PHRASES + PLAN_SAID };

/// Where a cell stands.
typedef struct {
  const Cell* cell;
  uint8_t     id;    ///< From 0 on, or from PLANT_SAID on
  Tick        tick;  ///< Its first note
  Tick        after; ///< Between these a note would be heard as one of it
  Tick        before;
  unsigned    phrase; ///< Of the plan
} Plant;

typedef struct {
  unsigned n;
  Plant    plants[PLANT_CAPACITY];
} Plants;

/// Put a cell somewhere in the phrases of a plan, and once more half a bar or a
/// multiple away if it is to stand twice; false if it has no room. What the
/// plan says and states stands where it has it.
bool
planting_draw(Plants*         plants,
              const Frame*    frame,
              const Plan*     plan,
              const Planting* planting,
              Rng*            rng);

/// Whether a tick lies within a planted cell, or so near that a note there
/// would be heard as one of it.
static inline bool
planting_covers(const Plants* const plants, const Tick tick)
{
  bool covers = false;
  for (unsigned k = 0; k < plants->n; ++k) {
    const Plant* const plant = &plants->plants[k];
    covers = covers || (tick > plant->after && tick < plant->before);
  }
  return covers;
}

#endif // RESPONDER_SAY_PLANTING_H
