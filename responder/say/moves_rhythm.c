// Moves that change the rhythm: other onsets, fewer, more, or later.

#include "responder/say/moves_made.h"
#include "responder/say/rhythm.h"
#include "responder/say/weights.h"

#include <stdlib.h>

enum {
  LEAST_TO_THIN = 4,
  LEAST_TO_FILL = 2,
  WIDEST_FILL   = 7, // Semitones that steps can fill
  N_SHIFTS      = 4,
  N_TRIES       = 3,
};

static const SketchNote blank = {
  .pitch_fall    = NO_WISH,
  .interval_fall = NO_WISH,
};

static Tick
source_end(const Source* const source)
{
  const unsigned last = source->n_notes - 1;
  return source->ticks[last] + source->lengths[last];
}

static Tick
whole_beats(const Frame* const frame, const Tick ticks)
{
  return (ticks + frame->beat - 1) / frame->beat * frame->beat;
}

static bool
same_onsets(const Sketch* const sketch,
            const Frame* const  frame,
            const Source* const source)
{
  if (sketch->n_notes != source->n_notes) {
    return false;
  }
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    if (sketch->notes[i].tick - frame->start != source->ticks[i]) {
      return false;
    }
  }
  return true;
}

/// Put one more note where there is most room, on a beat or between two.
static bool
split_longest(Sketch* const sketch, const Frame* const frame, const Tick until)
{
  unsigned longest = 0;
  Tick     room    = 0;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const bool is_last = i + 1 == sketch->n_notes;
    const Tick next    = is_last ? until : sketch->notes[i + 1].tick;
    if (next - sketch->notes[i].tick > room) {
      room    = next - sketch->notes[i].tick;
      longest = i;
    }
  }
  const Tick grain =
    room > frame->beat ? frame->beat
    : frame->rhythm->eighths
      ? (meter_is_compound(frame->meter) ? frame->beat / 3 : frame->beat / 2)
      : room;
  SketchNote note = blank;
  note.tick       = sketch->notes[longest].tick + grain;
  note.length     = room - grain;
  return grain < room && sketch_insert(sketch, note);
}

/// Draw a rhythm of exactly so many notes, if it can be.
static void
draw_exactly(Sketch* const         sketch,
             const Workshop* const shop,
             const Tick            from,
             const Tick            until,
             const unsigned        n_notes)
{
  sketch->n_notes = 0;
  rhythm_draw(sketch, shop->frame, from, until, n_notes, blank, shop->rng);
  if (sketch->n_notes == 0) {
    SketchNote note = blank;
    note.tick       = from;
    note.length     = until - from;
    sketch_add(sketch, note);
  }
  rhythm_thin(sketch, shop->frame, n_notes);
  while (sketch->n_notes < n_notes &&
         split_longest(sketch, shop->frame, until)) {
  }
  sketch->facts.is_simplified = false;
  sketch_cut_overlaps(sketch);
}

/// Give the notes the source's pitches, in their order.
static void
lay_pitches(Sketch* const sketch, const Source* const source)
{
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    SketchNote* const note = &sketch->notes[i];
    note->pitch            = source->pitches[i];
    note->pitch_fall       = say_weights.pitch_bound;
    note->interval_fall    = say_weights.interval_bound;
  }
}

bool
move_new_rhythm(Sketch* const sketch, const Workshop* const shop)
{
  const Source* const source = shop->source;
  const Frame* const  frame  = shop->frame;
  if (source->n_notes < LEAST_TO_FILL || source->n_notes > frame->max_onsets) {
    return false;
  }
  const Tick first = source->ticks[0] - source->ticks[0] % frame->beat;
  const Tick from  = frame->start + first;
  const Tick until = frame->start + whole_beats(frame, source_end(source));
  const Tick end   = until < frame->end ? until : frame->end;
  for (unsigned i = 0; i < N_TRIES; ++i) {
    const unsigned wanted = source->n_notes - rng_below(shop->rng, 2);
    draw_exactly(sketch, shop, from, end, wanted < 2 ? 2 : wanted);
    const unsigned n = sketch->n_notes;
    if (n + 1 >= source->n_notes && n <= source->n_notes &&
        !same_onsets(sketch, frame, source)) {
      lay_pitches(sketch, source);
      sketch->facts.is_bound = true;
      return true;
    }
  }
  return false;
}

bool
move_thin_out(Sketch* const sketch, const Workshop* const shop)
{
  if (!move_repeat(sketch, shop) || sketch->n_notes < LEAST_TO_THIN) {
    return false;
  }
  const unsigned n    = sketch->n_notes;
  const unsigned keep = (n * (45 + rng_below(shop->rng, 21)) + 50) / 100;
  rhythm_thin(sketch, shop->frame, keep < 2 ? 2 : keep);
  sketch->facts.is_simplified = false;
  sketch->facts.n_notes       = n;
  return true;
}

/// Return where between two notes one more fits, 0 if nowhere.
static Tick
filling_tick(const Frame* const      frame,
             const SketchNote* const a,
             const Tick              next)
{
  const Tick slot  = next - a->tick;
  const Tick third = frame->beat / 3;
  const Tick half  = meter_is_compound(frame->meter) ? third : frame->beat / 2;
  const Tick part  = slot > frame->beat ? frame->beat : half;
  const bool reaches = slot - a->length < TICKS_PER_EIGHTH;
  const bool fits =
    reaches && slot <= 2 * frame->beat &&
    (slot > frame->beat || (frame->rhythm->eighths && slot == frame->beat));
  return fits && frame_in_beat(frame, a->tick) == 0 ? a->tick + part : 0;
}

static bool
fill_after(Sketch* const sketch, const Frame* const frame, const unsigned index)
{
  const SketchNote* const a    = &sketch->notes[index];
  const SketchNote* const b    = &sketch->notes[index + 1];
  const Tick              tick = filling_tick(frame, a, b->tick);
  const int               wide = b->pitch - a->pitch;
  if (tick == 0 || abs(wide) > WIDEST_FILL) {
    return false;
  }
  const SketchNote filling = {
    .tick       = tick,
    .length     = b->tick - tick,
    .pitch      = (int16_t)(abs(wide) < 2 ? a->pitch - 2 : a->pitch + wide / 2),
    .pitch_fall = say_weights.pitch_loose,
    .interval_fall = NO_WISH,
  };
  return sketch_insert(sketch, filling);
}

bool
move_fill_in(Sketch* const sketch, const Workshop* const shop)
{
  const Frame* const frame = shop->frame;
  if (frame->notes->scale_share <= 0.0F || !move_repeat(sketch, shop) ||
      sketch->n_notes < LEAST_TO_FILL) {
    return false;
  }
  const unsigned n = sketch->n_notes;
  for (unsigned i = n - 1; i-- > 0;) {
    const bool has_room = sketch->n_notes < frame->max_onsets;
    if (has_room && rng_unit(shop->rng) < 0.7) {
      fill_after(sketch, frame, i);
    }
  }
  sketch_cut_overlaps(sketch);
  sketch->facts.n_notes = sketch->n_notes - n;
  return sketch->n_notes > n;
}

/// Whether all onsets stand on beats and half beats.
static bool
is_square(const Frame* const frame, const Source* const source)
{
  for (unsigned i = 0; i < source->n_notes; ++i) {
    if (source->ticks[i] % (frame->beat / 2) != 0) {
      return false;
    }
  }
  return true;
}

static bool
can_shift(const Workshop* const shop, const Tick shift)
{
  const Frame* const  frame   = shop->frame;
  const Source* const source  = shop->source;
  const Tick          first   = source->ticks[0] + shift;
  const Tick          last    = source->ticks[source->n_notes - 1] + shift;
  const bool          by_half = shift % frame->beat != 0;
  return first >= 0 && last + frame->beat < frame->end - frame->start &&
         (!by_half || (frame->rhythm->off_beats && is_square(frame, source)));
}

bool
move_shift(Sketch* const sketch, const Workshop* const shop)
{
  const Tick beat             = shop->frame->beat;
  const Tick shifts[N_SHIFTS] = {-beat, -beat / 2, beat / 2, beat};
  float      worths[N_SHIFTS];
  bool       any = false;
  if (shop->source->n_notes < LEAST_TO_FILL) {
    return false;
  }
  for (unsigned i = 0; i < N_SHIFTS; ++i) {
    const bool can = can_shift(shop, shifts[i]);
    worths[i]      = can ? 1.0F : 0.0F;
    any            = any || can;
  }
  if (!any || !move_repeat(sketch, shop)) {
    return false;
  }
  const Tick shift = shifts[rng_pick(shop->rng, worths, N_SHIFTS)];
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    sketch->notes[i].tick += shift;
  }
  sketch->facts.shift = shift;
  return true;
}
