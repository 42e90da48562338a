/// @file responder/say/figures.h Figures that lead from one note of a skeleton
/// to the next.

#ifndef RESPONDER_SAY_FIGURES_H
#define RESPONDER_SAY_FIGURES_H

#include "core/music/path.h"
#include "core/rng.h"
#include "responder/say/draft.h"

#include <stdint.h>

/// Favour enclosures, arpeggios, runs and approaches where notes are free
/// between two of the skeleton.
///
/// @param anchors The skeleton's pitches, one a note of the draft; 0: free.
void
figures_pose(PathProblem*   problem,
             const Frame*   frame,
             const Draft*   draft,
             const uint8_t* anchors,
             Rng*           rng);

#endif // RESPONDER_SAY_FIGURES_H
