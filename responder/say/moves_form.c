// Moves that build: a question with its answer, a fragment said again and
// again.

#include "responder/say/curve.h"
#include "responder/say/moves_made.h"
#include "responder/say/rhythm.h"
#include "responder/say/weights.h"

#include <stdlib.h>

enum {
  LEAST_TO_CUT   = 4,
  CELL_LEAST     = 2, // Notes
  CELL_MOST      = 5,
  MOST_TIMES     = 4,
  N_FRAGMENT_WAY = 4,
};

static const SketchNote blank = {
  .pitch_fall    = NO_WISH,
  .interval_fall = NO_WISH,
};

/// A stretch of the source.
typedef struct {
  unsigned first;
  unsigned end;
  Tick     span; ///< From the first onset to where the last note stops
} Cell;

static Tick
end_of(const Source* const source)
{
  const unsigned last = source->n_notes - 1;
  return source->ticks[last] + source->lengths[last];
}

/// Return where the question ends: at the breath nearest to the middle of the
/// call, or else at the beat nearest to it.
static Tick
middle_of(const Frame* const frame, const Source* const source)
{
  const Tick span   = end_of(source) - source->ticks[0];
  const Tick middle = source->ticks[0] + span / 2;
  Tick       best   = (middle + frame->beat / 2) / frame->beat * frame->beat;
  Tick       least  = span / 4;
  for (unsigned i = 1; i < source->n_notes; ++i) {
    const Tick stop = source->ticks[i - 1] + source->lengths[i - 1];
    const Tick off  = llabs(source->ticks[i] - middle);
    if (source->ticks[i] - stop >= TICKS_PER_EIGHTH && off < least) {
      least = off;
      best  = source->ticks[i] / frame->beat * frame->beat;
    }
  }
  return best;
}

static unsigned
first_from(const Source* const source, const Tick tick)
{
  unsigned i = 0;
  while (i < source->n_notes && source->ticks[i] < tick) {
    ++i;
  }
  return i;
}

/// Write the second half: a rhythm of its own, coming down to a long last note
/// on a beat.
static void
answer_question(Sketch* const         sketch,
                const Workshop* const shop,
                const Tick            from,
                const Tick            until,
                const unsigned        n_notes)
{
  Frame* const   frame = shop->frame;
  const unsigned first = sketch->n_notes;
  const Tick     goal  = until - frame->beat;
  if (goal > from) {
    rhythm_draw(sketch, frame, from, goal, n_notes, blank, shop->rng);
  }
  SketchNote last = blank;
  last.tick       = goal > from ? goal : from;
  last.length     = frame->beat;
  sketch_insert(sketch, last);
  const int   start = first > 0 ? sketch->notes[first - 1].pitch
                                : source_mean_pitch(shop->source);
  const Shape shape = rng_unit(shop->rng) < 0.6 ? SHAPE_FALLING : SHAPE_CONVEX;
  const int   width = curve_width(frame);
  curve_lay(sketch, first, sketch->n_notes, shape, start, width / 2 + 1);
}

/// Return where the answer to the question is to end: with the call, but not so
/// soon that it is shorter than the question.
static Tick
answer_end(const Frame* const  frame,
           const Source* const source,
           const Tick          middle)
{
  const Tick beat  = frame->beat;
  const Tick even  = middle + (middle - source->ticks[0]);
  const Tick call  = end_of(source);
  const Tick most  = frame->end - frame->start - beat;
  const Tick until = even > call ? even : call;
  const Tick whole = ((until < most ? until : most) + beat / 2) / beat * beat;
  return whole > middle + 2 * beat ? whole : middle + 2 * beat;
}

/// Return where the question ends: a call that leaves half the turn free is one
/// whole, else it is cut in the middle.
static Tick
question_end(const Frame* const frame, const Source* const source)
{
  const Tick beat = frame->beat;
  const Tick end  = (end_of(source) + beat - 1) / beat * beat;
  return 2 * end <= frame->end - frame->start + beat ? end
                                                     : middle_of(frame, source);
}

bool
move_question(Sketch* const sketch, const Workshop* const shop)
{
  const Source* const source = shop->source;
  const Frame* const  frame  = shop->frame;
  const Tick          turn   = frame->end - frame->start;
  if (source->n_notes < CELL_LEAST) {
    return false;
  }
  const Tick     middle = question_end(frame, source);
  const unsigned half   = first_from(source, middle);
  const Tick     end    = answer_end(frame, source, middle);
  if (half < CELL_LEAST || end > turn) {
    return false;
  }
  move_copy(sketch,
            shop,
            source,
            0,
            half,
            say_weights.pitch_bound,
            say_weights.interval_bound);
  const unsigned second =
    half < source->n_notes ? source->n_notes - half : half;
  answer_question(sketch,
                  shop,
                  frame->start + middle,
                  frame->start + end,
                  second > CELL_LEAST ? second : CELL_LEAST);
  sketch->facts.ends_on_root = true;
  sketch->facts.is_whole     = half == source->n_notes;
  return sketch->n_notes > half;
}

static Tick
cell_span(const Source* const source, const unsigned first, const unsigned end)
{
  return source->ticks[end - 1] - source->ticks[first] +
         source->lengths[end - 1];
}

/// Return how much a stretch has to say: a few notes, moving, and not too long.
static double
cell_worth(const Source* const source,
           const Frame* const  frame,
           const unsigned      first,
           const unsigned      end)
{
  unsigned moves = 0;
  for (unsigned i = first + 1; i < end; ++i) {
    moves += source->pitches[i] != source->pitches[i - 1] ? 1 : 0;
  }
  const Tick onsets = source->ticks[end - 1] - source->ticks[first];
  const bool fits   = onsets <= 2 * frame->beat && onsets > 0;
  const bool begins = first == 0 || source->ticks[first] -
                                        source->ticks[first - 1] -
                                        source->lengths[first - 1] >=
                                      TICKS_PER_EIGHTH;
  const bool ends = end == source->n_notes;
  return !fits ? 0.0 : 1.0 + moves + (begins ? 1.5 : 0.0) + (ends ? 2.0 : 0.0);
}

/// Choose a stretch, the better the likelier.
static bool
choose_cell(Cell* const cell, const Workshop* const shop)
{
  const Source* const source = shop->source;
  double              total  = 0.0;
  for (unsigned first = 0; first < source->n_notes; ++first) {
    for (unsigned n = CELL_LEAST; n <= CELL_MOST; ++n) {
      if (first + n > source->n_notes) {
        break;
      }
      const double worth = cell_worth(source, shop->frame, first, first + n);
      total += worth * worth;
      if (worth > 0.0 && rng_unit(shop->rng) * total < worth * worth) {
        *cell = (Cell){first, first + n, cell_span(source, first, first + n)};
      }
    }
  }
  return total > 0.0;
}

/// Return how far apart the statements stand.
static Tick
choose_period(const Workshop* const shop, const Cell* const cell)
{
  const Frame* const frame = shop->frame;
  const Tick         onsets =
    shop->source->ticks[cell->end - 1] - shop->source->ticks[cell->first];
  const Tick least    = (onsets / frame->beat + 1) * frame->beat;
  const bool is_cross = frame->rhythm->cross_rhythm &&
                        least <= 2 * frame->beat && rng_unit(shop->rng) < 0.5;
  if (is_cross) {
    return 3 * frame->beat; // Threes across the bar
  }
  const Tick whole_bar = frame->bar;
  return least * 2 > whole_bar       ? whole_bar
         : rng_unit(shop->rng) < 0.5 ? whole_bar
         : whole_bar / 2 >= least    ? 2 * frame->beat
                                     : whole_bar;
}

/// State the cell, moved by steps through the notes of the chord there.
static void
state(Sketch* const         sketch,
      const Workshop* const shop,
      const Cell* const     cell,
      const Tick            start,
      const int             steps)
{
  const Source* const source = shop->source;
  for (unsigned i = cell->first; i < cell->end; ++i) {
    const Tick tick = start + source->ticks[i] - source->ticks[cell->first];
    const SketchNote note = {
      .tick   = tick,
      .length = source->lengths[i],
      .pitch =
        (int16_t)curve_step(shop->frame, tick, source->pitches[i], steps),
      .pitch_fall    = say_weights.pitch_loose,
      .interval_fall = i > cell->first ? say_weights.interval_bound : NO_WISH,
    };
    sketch_insert(sketch, note);
  }
}

static unsigned
state_often(Sketch* const         sketch,
            const Workshop* const shop,
            const Cell* const     cell)
{
  static const int   ways[N_FRAGMENT_WAY] = {-1, 1, 0, -2};
  const Frame* const frame                = shop->frame;
  const int          way    = ways[rng_below(shop->rng, N_FRAGMENT_WAY)];
  const Tick         period = choose_period(shop, cell);
  const Tick         turn   = frame->end - frame->start;
  unsigned           n      = 0;
  // Best that one statement stands where the call had it
  const Tick had  = shop->source->ticks[cell->first];
  const Tick need = period + cell->span + frame->beat / 2;
  Tick at = had % period + need <= turn ? had % period : had % frame->beat;
  while (n < MOST_TIMES && at + cell->span + frame->beat / 2 <= turn) {
    state(sketch, shop, cell, frame->start + at, (int)n * way);
    at += period;
    ++n;
  }
  return n;
}

bool
move_fragment(Sketch* const sketch, const Workshop* const shop)
{
  Cell cell = {0};
  if (shop->source->n_notes < LEAST_TO_CUT || !choose_cell(&cell, shop)) {
    return false;
  }
  sketch->facts.n_times  = state_often(sketch, shop, &cell);
  sketch->facts.n_notes  = cell.end - cell.first;
  sketch->facts.is_bound = true;
  sketch_cut_overlaps(sketch);
  return sketch->facts.n_times > 1;
}
