#include "responder/say/compass.h"

#include <limits.h>
#include <stdlib.h>

enum {
  OCTAVE       = 12,
  ALL_CLASSES  = 11, // Semitones of compass that hold every pitch class
  FAR_TOO_WIDE = 7,  // Semitones beyond the compass
};

static int
outside_by(const int pitch, const int lowest, const int compass)
{
  return pitch < lowest             ? lowest - pitch
         : pitch > lowest + compass ? pitch - lowest - compass
                                    : 0;
}

/// Return how far the notes `first` up to `end`, moved, lie outside in all.
static int
cost_of(const Sketch* const sketch,
        const unsigned      first,
        const unsigned      end,
        const int           move,
        const int           lowest,
        const int           compass)
{
  int cost = 0;
  for (unsigned i = first; i < end; ++i) {
    cost += outside_by(sketch->notes[i].pitch + move, lowest, compass);
  }
  return cost;
}

/// Move the notes `first` up to `end` by the octaves that leave the least of
/// them outside, the fewest octaves that do.
static void
move_by_octaves(Sketch* const  sketch,
                const unsigned first,
                const unsigned end,
                const int      lowest,
                const int      compass)
{
  static const int moves[] = {0, OCTAVE, -OCTAVE, 2 * OCTAVE, -2 * OCTAVE};
  int              best    = 0;
  int              least   = INT_MAX;
  for (unsigned i = 0; i < sizeof(moves) / sizeof(*moves); ++i) {
    const int cost = cost_of(sketch, first, end, moves[i], lowest, compass);
    if (cost < least) {
      least = cost;
      best  = moves[i];
    }
  }
  for (unsigned i = first; i < end; ++i) {
    sketch->notes[i].pitch = (int16_t)(sketch->notes[i].pitch + best);
  }
}

/// Draw a line that is far wider than its compass together, its shape kept.
static void
narrow(Sketch* const sketch, const int compass)
{
  int lowest  = sketch->notes[0].pitch;
  int highest = sketch->notes[0].pitch;
  for (unsigned i = 1; i < sketch->n_notes; ++i) {
    const int pitch = sketch->notes[i].pitch;
    lowest          = pitch < lowest ? pitch : lowest;
    highest         = pitch > highest ? pitch : highest;
  }
  const int wide   = highest - lowest;
  const int middle = (lowest + highest) / 2;
  for (unsigned i = 0; wide > compass + FAR_TOO_WIDE && i < sketch->n_notes;
       ++i) {
    SketchNote* const note = &sketch->notes[i];
    note->pitch = (int16_t)(middle + (note->pitch - middle) * compass / wide);
  }
}

/// Return the lowest pitch of the compass that leaves the fewest wishes
/// outside.
static int
lay_compass(const Sketch* const sketch,
            const Frame* const  frame,
            const int           compass)
{
  const int lowest  = (int)frame->request->lowest;
  const int highest = (int)frame->request->highest - compass;
  int       best    = lowest;
  int       least   = INT_MAX;
  for (int at = lowest; at <= highest; ++at) {
    int cost = 0;
    int lean = 0;
    for (unsigned i = 0; i < sketch->n_notes; ++i) {
      const int pitch = sketch->notes[i].pitch;
      cost += outside_by(pitch, at, compass);
      lean += 2 * pitch - 2 * at - compass;
    }
    cost = cost * 64 + abs(lean) / (int)sketch->n_notes;
    if (cost < least) {
      least = cost;
      best  = at;
    }
  }
  return best;
}

/// Whether a phrase ends before a note: a rest of more than a beat.
static bool
ends_before(const Sketch* const sketch,
            const Frame* const  frame,
            const unsigned      i)
{
  const SketchNote* const before = &sketch->notes[i - 1];
  return sketch->notes[i].tick - before->tick - before->length > frame->beat;
}

/// Bring wishes toward the compass, phrase by phrase. What still lies outside
/// stays there: at the edge, notes apart would be one note again and again.
static void
bring_inside(Sketch* const      sketch,
             const Frame* const frame,
             const int          lowest,
             const int          compass)
{
  unsigned first = 0;
  for (unsigned i = 1; i <= sketch->n_notes; ++i) {
    if (i == sketch->n_notes || ends_before(sketch, frame, i)) {
      move_by_octaves(sketch, first, i, lowest, compass);
      first = i;
    }
  }
}

void
compass_set(PathProblem* const problem,
            Sketch* const      sketch,
            const Frame* const frame)
{
  const int most    = (int)(frame->request->highest - frame->request->lowest);
  const int rung    = frame->notes->range;
  const int wide    = rung < ALL_CLASSES ? ALL_CLASSES : rung;
  int       compass = wide < most ? wide : most;
  compass = compass < PATH_PITCH_CAPACITY ? compass : PATH_PITCH_CAPACITY - 1;
  narrow(sketch, compass);
  move_by_octaves(
    sketch, 0, sketch->n_notes, (int)frame->request->lowest, most);
  const int lowest   = lay_compass(sketch, frame, compass);
  problem->lowest    = (unsigned)lowest;
  problem->n_pitches = (unsigned)compass + 1;
  bring_inside(sketch, frame, lowest, compass);
}
