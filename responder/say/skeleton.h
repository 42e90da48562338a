/// @file responder/say/skeleton.h The notes that carry a line: guide tones on
/// the strong beats, and where each phrase ends.

#ifndef RESPONDER_SAY_SKELETON_H
#define RESPONDER_SAY_SKELETON_H

#include "responder/say/melody.h"

/**
   Draw the skeleton.

   @param melody Its problem and solver are used up; its anchors are written.
   @return Whether there is one; of a whole phrase only the last note is.
*/
bool
skeleton_draw(Melody*       melody,
              const Frame*  frame,
              const Draft*  draft,
              const Prompt* call,
              const Intent* intent,
              Contour       contour,
              Rng*          rng);

#endif // RESPONDER_SAY_SKELETON_H
