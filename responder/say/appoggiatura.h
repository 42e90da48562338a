/// @file responder/say/appoggiatura.h Tones that lean: each takes the strong
/// beat of a tone of the skeleton, and that one follows by step.

#ifndef RESPONDER_SAY_APPOGGIATURA_H
#define RESPONDER_SAY_APPOGGIATURA_H

#include "responder/say/melody.h"

/// Delay some tones of a skeleton by their upper neighbour in the chord's scale
/// or the semitone below.
///
/// @param melody Its anchors are moved, its leaning places marked.
void
appoggiatura_draw(Melody*      melody,
                  const Frame* frame,
                  const Draft* draft,
                  Rng*         rng);

#endif // RESPONDER_SAY_APPOGGIATURA_H
