/// @file responder/say/beats.h Rhythms beat by beat, with a cell planted.

#ifndef RESPONDER_SAY_BEATS_H
#define RESPONDER_SAY_BEATS_H

#include "core/rng.h"
#include "responder/say/counts.h"
#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/plan.h"
#include "responder/say/planting.h"

#include <stdbool.h>

enum { N_FIGURES = 10 }; ///< What a beat may hold

/// Where a beat stands; bits.
enum {
  BEAT_IN_ZONE   = 1U << 0U, ///< Of another division
  BEAT_NEAR_GOAL = 1U << 1U,
  BEAT_IS_ONE    = 1U << 2U, ///< The first of its bar
  N_BEAT_PLACES  = 1U << 3U,
};

/// What each figure weighs at a place, after each reading of the beat before.
typedef struct {
  float weights[N_BEAT_PLACES][N_READINGS][N_FIGURES];
} BeatTable;

/// Weigh the figures, for all rhythms of one texture.
void
beats_open(BeatTable* table, const Frame* frame, Texture texture);

/**
   Draw the rhythm of a plan.

   The cell stands once or twice; the other beats follow each other as in
   solos, within the rung; of some rhythms the one nearest to the number of
   notes aimed at is taken.

   @param[out] draft Closed, with the plantings marked.
   @return Whether there is one.
*/
bool
beats_draw(Draft*           draft,
           Frame*           frame,
           const BeatTable* table,
           const Plan*      plan,
           const Intent*    intent,
           const Planting*  planting,
           Rng*             rng);

#endif // RESPONDER_SAY_BEATS_H
