/// @file responder/say/pulse.h Where written notes fall in time.

#ifndef RESPONDER_SAY_PULSE_H
#define RESPONDER_SAY_PULSE_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/**
   Place the notes of a line: swung, and a little off.

   At plain rungs of rhythm that is steady, for a player to lean on, and never
   late on the first beat of a bar; toward the last one it goes to two thirds of
   what soloists are behind the beat, and spread about it, at the tempo.

   @param[out] ticks As they sound, rising, none before the turn may begin.
*/
void
pulse_place(Tick          ticks[SKETCH_CAPACITY],
            const Frame*  frame,
            const Sketch* sketch,
            Rng*          rng);

/// Return how far timing and touch go toward soloists' own, 0..1.
double
pulse_human(const Frame* frame);

/// Return about a normal deviate, within ±3.5.
double
pulse_deviate(Rng* rng);

#endif // RESPONDER_SAY_PULSE_H
