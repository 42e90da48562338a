#include "responder/say/room.h"

#include "responder/say/rhythm.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stddef.h>

/// The last note is held: a beat from a beat, half of one from elsewhere.
static Tick
last_length(const SketchNote* const last, const Frame* const frame)
{
  const bool is_on = frame_in_beat(frame, last->tick) == 0;
  const Tick least = is_on ? frame->beat : frame->beat / 2;
  const Tick most  = frame->end - frame->beat / 2 - last->tick;
  const Tick wish  = last->length > least ? last->length : least;
  return wish < most ? wish : most > 0 ? most : 1;
}

void
room_set_lengths(Sketch* const sketch, const Frame* const frame)
{
  for (unsigned i = 0; i + 1 < sketch->n_notes; ++i) {
    SketchNote* const note = &sketch->notes[i];
    const Tick        slot = sketch->notes[i + 1].tick - note->tick;
    const Tick        wish = note->length > 0 ? note->length : 1;
    note->length           = slot - wish < TICKS_PER_EIGHTH ? slot : wish;
  }
  SketchNote* const last = &sketch->notes[sketch->n_notes - 1];
  last->length           = last_length(last, frame);
}

static Tick
counted(const Tick breath)
{
  return breath < TICKS_PER_EIGHTH ? 0 : breath;
}

double
room_space(const Sketch* const sketch, const Frame* const frame)
{
  Tick silent   = 0;
  Tick sounding = frame->start;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const SketchNote* const note = &sketch->notes[i];
    silent += counted(note->tick - sounding);
    sounding = note->tick + note->length;
  }
  silent += counted(frame->end - sounding);
  return (double)silent / (double)(frame->end - frame->start);
}

/// Shorten the longest inner note by an eighth or more; false if all are short.
static bool
shorten_one(Sketch* const sketch, const Frame* const frame)
{
  SketchNote* longest = NULL;
  for (unsigned i = 0; i + 1 < sketch->n_notes; ++i) {
    SketchNote* const note    = &sketch->notes[i];
    const bool        is_long = note->length > frame->beat;
    if (is_long && (longest == NULL || note->length > longest->length)) {
      longest = note;
    }
  }
  if (longest == NULL) {
    return false;
  }
  const Tick half = longest->length / 2;
  longest->length = half > frame->beat / 2 ? half : frame->beat / 2;
  return true;
}

/// Whether a note off the beat leans on a note: without off-beats it may not be
/// left alone.
static bool
is_leaned_on(const Sketch* const sketch,
             const Frame* const  frame,
             const unsigned      index)
{
  const Tick tick   = sketch->notes[index].tick;
  const Tick before = sketch->notes[index - 1].tick;
  const Tick after  = sketch->notes[index + 1].tick;
  const bool leans =
    (tick - before < frame->beat) || (after - tick < frame->beat);
  return !frame->rhythm->off_beats && frame_in_beat(frame, tick) == 0 && leans;
}

/// Take out the inner note that is missed least, best before a strong beat.
static void
breathe_once(Sketch* const sketch, const Frame* const frame)
{
  unsigned weakest = 1;
  double   least   = INFINITY;
  for (unsigned i = 1; i + 1 < sketch->n_notes; ++i) {
    const Tick   next  = sketch->notes[i + 1].tick;
    const double lean  = is_leaned_on(sketch, frame, i) ? 100.0 : 0.0;
    const double worth = rhythm_importance(sketch, frame, i) + lean -
                         1.5 * frame_weight(frame, next);
    if (worth < least) {
      least   = worth;
      weakest = i;
    }
  }
  const Tick room = sketch->notes[weakest].length;
  sketch_remove(sketch, weakest);
  SketchNote* const before = &sketch->notes[weakest - 1];
  if (room < TICKS_PER_EIGHTH && before->length > TICKS_PER_EIGHTH) {
    before->length = TICKS_PER_EIGHTH; // So that the rest is one
  }
}

/// Lengthen notes before rests, up to two beats, while there is too much room.
static void
fill_silence(Sketch* const sketch, const Frame* const frame, const Tick end)
{
  for (unsigned i = sketch->n_notes; i-- > 0;) {
    if (room_space(sketch, frame) <= (double)say_weights.space.most) {
      return;
    }
    SketchNote* const note = &sketch->notes[i];
    const Tick next = i + 1 < sketch->n_notes ? sketch->notes[i + 1].tick : end;
    const Tick room = next - note->tick;
    const Tick wish = note->length + frame->beat;
    const Tick most = wish < 2 * frame->beat ? wish : 2 * frame->beat;
    if (room - note->length >= TICKS_PER_EIGHTH && most > note->length) {
      note->length = most < room ? most : room;
    }
  }
}

void
room_make(Sketch* const sketch, const Frame* const frame, const Tick end)
{
  const double least = frame->request->treatment == TREAT_ANSWER
                         ? (double)say_weights.space.least
                         : (double)say_weights.spare_space;
  while (room_space(sketch, frame) < least) {
    if (shorten_one(sketch, frame)) {
      continue;
    }
    if (sketch->n_notes <= 2) {
      break;
    }
    breathe_once(sketch, frame);
  }
  fill_silence(sketch, frame, end);
}

/// Return how long nothing sounds before the line's last note ends.
static Tick
rest_within(const Sketch* const sketch, const Frame* const frame)
{
  const SketchNote* const last = &sketch->notes[sketch->n_notes - 1];
  const Tick   tail = counted(frame->end - last->tick - last->length);
  const double turn = (double)(frame->end - frame->start);
  return (Tick)(room_space(sketch, frame) * turn) - tail;
}

Tick
room_draw_end(const Sketch* const sketch,
              const Frame* const  frame,
              Rng* const          rng)
{
  const Tick   half  = frame->beat / 2;
  const double turn  = (double)(frame->end - frame->start);
  const Tick   drawn = (1 + rng_pick(rng, say_weights.tails, N_TAILS)) * half;
  const Tick   most  = (Tick)(turn * (double)say_weights.cut.most);
  const Tick   spare = (Tick)(turn * (double)say_weights.spare_space);
  const Tick   need  = (Tick)(turn * (double)say_weights.space_enough) -
                    rest_within(sketch, frame);
  const Tick tail = drawn < most ? drawn : most;
  const Tick rest = need < half ? half : need;
  return frame->request->treatment != TREAT_ANSWER
           ? frame->end - spare
           : frame->end - (tail < rest ? tail : rest);
}

Tick
room_earlier_end(const Sketch* const sketch,
                 const Frame* const  frame,
                 const Tick          end,
                 Rng* const          rng)
{
  const Band   cut   = say_weights.cut;
  const double turn  = (double)(frame->end - frame->start);
  const double drawn = rng_unit(rng) * (double)(cut.most - cut.least);
  const double missing =
    (double)say_weights.space.least - room_space(sketch, frame);
  const Tick earliest = frame->end - (Tick)(turn * ((double)cut.least + drawn));
  const Tick wanted   = end - (Tick)(missing * turn);
  return missing <= 0.0 || end < earliest ? end
         : wanted > earliest              ? wanted
                                          : earliest;
}
