/// @file responder/say/room.h Rests: where a line ends, and how it breathes.

#ifndef RESPONDER_SAY_ROOM_H
#define RESPONDER_SAY_ROOM_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

/// Return the share of the turn where nothing sounds; breaths shorter than an
/// eighth do not count.
double
room_space(const Sketch* sketch, const Frame* frame);

/// Draw where the line's last sound may end: some half beats before the turn
/// does, but only one if it rests enough before; more where room is asked for.
Tick
room_draw_end(const Sketch* sketch, const Frame* frame, Rng* rng);

/// Return an earlier end for a line that is full up to its end; what room it
/// lacks then is for breaths.
Tick
room_earlier_end(const Sketch* sketch, const Frame* frame, Tick end, Rng* rng);

/// Give every note its length: up to the next where no breath lies between; the
/// last is held.
void
room_set_lengths(Sketch* sketch, const Frame* frame);

/**
   Rest enough, and not too much: long notes are shortened, then the notes that
   are missed least go; notes before too long rests are held.

   @param end Where the last sound may end.
*/
void
room_make(Sketch* sketch, const Frame* frame, Tick end);

#endif // RESPONDER_SAY_ROOM_H
