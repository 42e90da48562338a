#include "responder/say/grace.h"

#include "responder/say/weights.h"

#include <stdlib.h>

enum {
  HIGHEST_KEY = 127,
  NEIGHBOUR   = 2, // Semitones: the farthest
  TURN_NOTES  = 2, // From both sides
};

/// Return the nearest note of chord or scale on one side, a semitone if there
/// is none within two.
static unsigned
neighbour(Frame* const   frame,
          const Tick     chord_tick,
          const unsigned pitch,
          const int      direction)
{
  const RoleRow* const row = frame_roles(frame, chord_tick);
  for (int step = 1; step <= NEIGHBOUR; ++step) {
    const unsigned near = (unsigned)((int)pitch + direction * step);
    if (row->roles[near % N_PITCH_CLASSES] <= ROLE_SCALE_TONE) {
      return near;
    }
  }
  return (unsigned)((int)pitch + direction);
}

static bool
is_playable(const Frame* const frame, const unsigned pitch)
{
  return pitch >= frame->request->lowest + NEIGHBOUR &&
         pitch + NEIGHBOUR <= frame->request->highest &&
         pitch + NEIGHBOUR <= HIGHEST_KEY && pitch >= NEIGHBOUR;
}

/// In the blues: b3 to 3, #4 to 5, 6 to b7, 7 to 1, and no others (common
/// practice).
static Grace
blues_grace(const RoleRow* const row, const unsigned pitch)
{
  const unsigned degree = role_row_degree(row, pitch);
  const bool known = degree == 0 || degree == 4 || degree == 7 || degree == 10;
  return known ? (Grace){1, {(uint8_t)(pitch - 1)}} : (Grace){0};
}

Grace
grace_choose(Frame* const   frame,
             const Tick     chord_tick,
             const unsigned pitch,
             const unsigned n_most,
             Rng* const     rng)
{
  const double chance = rng_unit(rng);
  if (n_most == 0 || !is_playable(frame, pitch)) {
    return (Grace){0};
  }
  if (frame->is_blues) {
    return blues_grace(frame_roles(frame, chord_tick), pitch);
  }
  const uint8_t above = (uint8_t)neighbour(frame, chord_tick, pitch, 1);
  const uint8_t below = (uint8_t)neighbour(frame, chord_tick, pitch, -1);
  const uint8_t under = (uint8_t)(pitch - 1);
  const double  turns = (double)say_weights.turn_share;
  if (frame->ornament->turns && n_most >= TURN_NOTES && chance < turns / 2) {
    return (Grace){TURN_NOTES, {above, below}};
  }
  if (frame->ornament->turns && n_most >= TURN_NOTES && chance < turns) {
    return (Grace){TURN_NOTES, {above, under}};
  }
  const double approaches = turns + (double)say_weights.approach_share;
  if (frame->ornament->approaches && chance < approaches) {
    return (Grace){1, {under}};
  }
  return (Grace){1,
                 {chance * 10.0 - (int)(chance * 10.0) < 0.7 ? below : above}};
}

Tick
grace_ticks(const Frame* const frame)
{
  return frame_ticks(frame, say_weights.crushed_ms);
}
