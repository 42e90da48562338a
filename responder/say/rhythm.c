#include "responder/say/rhythm.h"

#include "responder/say/room.h"

#include <math.h>
#include <stdlib.h>

enum {
  N_DIVISIONS = 4,
  RUN_NOTES   = 4,   // In a beat
  BARELY      = 80,  // Ticks: a note moved so far is still the same rhythm
  MERGE_COST  = 300, // Ticks: as bad as moving notes so far in sum
};

/// Write the divisions of a beat that the rung allows; return how many.
static unsigned
divisions(const Frame* const frame,
          const bool         is_binary,
          unsigned           parts[N_DIVISIONS])
{
  const bool is_compound = meter_is_compound(frame->meter);
  unsigned   n           = 0;
  parts[n++]             = 1;
  if (frame->rhythm->eighths) {
    parts[n++] = is_compound ? 3 : 2;
  }
  if (frame->rhythm->triplets && !is_compound && !is_binary) {
    parts[n++] = 3;
  }
  if (frame->rhythm->sixteenths) {
    parts[n++] = is_compound ? 6 : 4;
  }
  return n;
}

/// Whether the notes of a beat stand on halves and quarters of it: such a beat
/// is not made into a triplet, unless it is a run.
static bool
stands_on_halves(const Sketch* const sketch,
                 const Frame* const  frame,
                 const unsigned      first,
                 const unsigned      end)
{
  for (unsigned i = first; i < end; ++i) {
    if (frame_in_beat(frame, sketch->notes[i].tick) % (frame->beat / 4) != 0) {
      return false;
    }
  }
  return end - first < RUN_NOTES;
}

static Tick
nearest_part(const Tick in_beat, const Tick unit)
{
  return (in_beat + unit / 2) / unit * unit;
}

/// Return how far the notes of a beat must move for a division.
static Tick
division_cost(const Sketch* const sketch,
              const Frame* const  frame,
              const unsigned      first,
              const unsigned      end,
              const Tick          unit)
{
  Tick cost = 0;
  Tick last = -1;
  for (unsigned i = first; i < end; ++i) {
    const Tick in_beat = frame_in_beat(frame, sketch->notes[i].tick);
    const Tick place   = nearest_part(in_beat, unit);
    cost += llabs(place - in_beat) + (place == last ? MERGE_COST : 0);
    last = place;
  }
  return cost;
}

/// Move the notes of one beat to the division that fits them best.
static void
snap_beat(Sketch* const      sketch,
          const Frame* const frame,
          const unsigned     first,
          const unsigned     end)
{
  unsigned       parts[N_DIVISIONS];
  const bool     halves    = stands_on_halves(sketch, frame, first, end);
  const unsigned n_parts   = divisions(frame, halves, parts);
  Tick           unit      = frame->beat;
  Tick           best_cost = INT64_MAX;
  for (unsigned p = 0; p < n_parts; ++p) {
    const Tick part = frame->beat / parts[p];
    const Tick cost = division_cost(sketch, frame, first, end, part);
    if (cost < best_cost) {
      best_cost = cost;
      unit      = part;
    }
  }
  for (unsigned i = first; i < end; ++i) {
    const Tick in_beat = frame_in_beat(frame, sketch->notes[i].tick);
    sketch->notes[i].tick += nearest_part(in_beat, unit) - in_beat;
  }
  sketch->facts.is_simplified |= best_cost > (Tick)(end - first) * BARELY;
}

/// Take a note out; the one before sounds on in its place, if it reached it,
/// but no longer than two beats.
static void
join(Sketch* const sketch, const Frame* const frame, const unsigned index)
{
  if (index > 0) {
    const SketchNote* const gone   = &sketch->notes[index];
    SketchNote* const       before = &sketch->notes[index - 1];
    const Tick              end    = gone->tick + gone->length;
    const Tick              rest   = gone->tick - before->tick - before->length;
    const Tick              most   = 2 * frame->beat;
    if (rest < TICKS_PER_EIGHTH && end - before->tick > before->length) {
      const Tick wish = end - before->tick < most ? end - before->tick : most;
      before->length  = wish > before->length ? wish : before->length;
    }
  }
  sketch_remove(sketch, index);
}

/// Of notes that fell together, keep the longest.
static void
merge_equal(Sketch* const sketch)
{
  for (unsigned i = sketch->n_notes; i-- > 1;) {
    SketchNote* const       before = &sketch->notes[i - 1];
    const SketchNote* const note   = &sketch->notes[i];
    if (note->tick <= before->tick) {
      if (note->length > before->length) {
        const Tick tick = before->tick;
        *before         = *note;
        before->tick    = tick;
      }
      sketch_remove(sketch, i);
    }
  }
}

static void
snap(Sketch* const sketch, const Frame* const frame)
{
  unsigned first = 0;
  while (first < sketch->n_notes) {
    const Tick tick = sketch->notes[first].tick;
    const Tick next = tick - frame_in_beat(frame, tick) + frame->beat;
    unsigned   end  = first + 1;
    while (end < sketch->n_notes && sketch->notes[end].tick < next) {
      ++end;
    }
    snap_beat(sketch, frame, first, end);
    first = end;
  }
  merge_equal(sketch);
}

static bool
has_onset(const Sketch* const sketch, const Tick tick)
{
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    if (sketch->notes[i].tick == tick) {
      return true;
    }
  }
  return false;
}

/// Settle one note: off the beat it needs one on the beat before it and one on
/// the beat after it; else it goes to one of them, or out.
static void
settle_one(Sketch* const      sketch,
           const Frame* const frame,
           const unsigned     index,
           const Tick         last_tick)
{
  const Tick tick    = sketch->notes[index].tick;
  const Tick here    = tick - frame_in_beat(frame, tick);
  const Tick next    = here + frame->beat;
  const bool leads   = index == 0 || sketch->notes[index - 1].tick < here;
  const bool is_held = has_onset(sketch, next);
  if (tick == here || (is_held && !leads)) {
    return;
  }
  sketch->facts.is_simplified = true;
  if (is_held || (leads && next > last_tick)) {
    sketch->notes[index].tick = here;
  } else if (next <= last_tick) {
    sketch->notes[index].tick = next;
  } else {
    join(sketch, frame, index);
  }
}

/// Without off-beats none may be left hanging in the air.
static void
settle(Sketch* const sketch, const Frame* const frame, const Tick last_tick)
{
  for (unsigned i = sketch->n_notes; !frame->rhythm->off_beats && i-- > 0;) {
    settle_one(sketch, frame, i, last_tick);
  }
}

double
rhythm_importance(const Sketch* const sketch,
                  const Frame* const  frame,
                  const unsigned      index)
{
  const SketchNote* const note  = &sketch->notes[index];
  const double            beats = (double)note->length / (double)frame->beat;
  double worth = frame_weight(frame, note->tick) + fmin(beats, 2.0);
  if (index == 0) {
    worth += 3.0;
  }
  if (index + 1 == sketch->n_notes) {
    worth += 4.0;
  }
  return worth;
}

void
rhythm_thin(Sketch* const      sketch,
            const Frame* const frame,
            const unsigned     n_notes)
{
  while (sketch->n_notes > n_notes && sketch->n_notes > 1) {
    unsigned weakest = 0;
    double   least   = INFINITY;
    for (unsigned i = 0; i < sketch->n_notes; ++i) {
      const double worth = rhythm_importance(sketch, frame, i);
      if (worth < least) {
        least   = worth;
        weakest = i;
      }
    }
    join(sketch, frame, weakest);
    sketch->facts.is_simplified = true;
  }
}

/// Take away what begins too late for the line's end.
static void
trim(Sketch* const sketch, const Frame* const frame, const Tick sound_end)
{
  const Tick last_tick = sound_end - frame->beat / 2;
  while (sketch->n_notes > 1 &&
         sketch->notes[sketch->n_notes - 1].tick > last_tick) {
    --sketch->n_notes;
  }
  if (sketch->n_notes == 1 && sketch->notes[0].tick > last_tick) {
    sketch->notes[0].tick = frame->start;
  }
}

static void
end_by(Sketch* const sketch, const Frame* const frame, const Tick end)
{
  trim(sketch, frame, end);
  rhythm_thin(sketch, frame, frame->max_onsets);
  settle(sketch, frame, end - frame->beat / 2);
  room_set_lengths(sketch, frame);
}

void
rhythm_fit(Sketch* const sketch, const Frame* const frame, Rng* const rng)
{
  if (sketch->n_notes == 0) {
    return;
  }
  snap(sketch, frame);
  sketch_cut_overlaps(sketch);
  Tick end = room_draw_end(sketch, frame, rng);
  end_by(sketch, frame, end);
  end = room_earlier_end(sketch, frame, end, rng);
  end_by(sketch, frame, end);
  room_make(sketch, frame, end);
}
