/// @file responder/say/manner.h How an answer speaks: a line, one note talked
/// about, a riff, or few notes and room.

#ifndef RESPONDER_SAY_MANNER_H
#define RESPONDER_SAY_MANNER_H

#include "core/rng.h"
#include "core/tick.h"
#include "profiles/ladder/move.h"
#include "responder/say/draft.h"
#include "responder/say/frame.h"
#include "responder/say/plan.h"
#include "responder/say/prompt.h"

#include <stdbool.h>
#include <stdint.h>

/// Draw a manner by what the call is; a line where the rung is not free.
Manner
manner_draw(const Frame* frame, const Prompt* call, Move move, Rng* rng);

/**
   Lay a riff's phrases: the beginning of a cell again and again elsewhere in
   the bar, at last the whole of it, and a release.

   @param plan Has no phrases yet.
   @param start Written tick of the first note.
   @param goal Written tick of the last note.
   @return Whether there is room.
*/
bool
manner_lay_riff(Plan*        plan,
                const Frame* frame,
                const Cell*  cell,
                Tick         start,
                Tick         goal,
                Rng*         rng);

/// Lay few notes and holes, and a gesture to the goal, as manner_lay_riff();
/// false if there is no room.
bool
manner_lay_spare(Plan*        plan,
                 const Frame* frame,
                 Tick         start,
                 Tick         goal,
                 Rng*         rng);

/// Begin the first phrase of a plan that has room for it, and the last one,
/// with one note said some times; false if it would not be come back to, unless
/// the turn is short.
bool
manner_say(Plan* plan, const Frame* frame, Rng* rng);

/// Wish the pitch that is said again, or that the statements of a riff begin
/// with.
void
manner_wish(Draft*        draft,
            const Intent* intent,
            const Prompt* call,
            const Cell*   cell,
            Move          move,
            Rng*          rng);

/// Whether what is said some times is one note.
bool
manner_holds(const Draft* draft, const uint8_t* line);

#endif // RESPONDER_SAY_MANNER_H
