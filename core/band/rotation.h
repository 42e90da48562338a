/// @file core/band/rotation.h Which pattern of a part is on.

#ifndef CORE_BAND_ROTATION_H
#define CORE_BAND_ROTATION_H

#include "core/band/feel.h"
#include "core/band/part.h"
#include "core/rng.h"
#include "core/tick.h"

/// The pattern that a part plays; zeroed, it has not begun.
typedef struct {
  const FeelPattern* pattern; ///< NULL if there is none
  unsigned           run;     ///< How many times running it has been drawn
  Tick               until;   ///< Where it comes to its end
} Rotation;

/**
   Return the pattern for a bar, a new one when the last has come to its end or
   the band has become thinner or fuller; NULL if the part is silent.

   None is drawn three times running when there is another.
*/
const FeelPattern*
rotation_next(Rotation*       rotation,
              const FeelPart* part,
              const Cue*      cue,
              Rng*            rng);

/// Return where a pattern began that is on in the cue's bar.
Tick
rotation_origin(const FeelPattern* pattern, const Cue* cue);

#endif // CORE_BAND_ROTATION_H
