// Moves that keep the rhythm: what is said with it changes, or nothing does.

#include "responder/say/curve.h"
#include "responder/say/moves_made.h"
#include "responder/say/weights.h"

enum {
  LEAST_LINE    = 3, // Notes, to speak of a shape
  N_SEQUENCES   = 8,
  SEQUENCE_STEP = 4, // The farthest, in steps
};

void
move_copy(Sketch* const         sketch,
          const Workshop* const shop,
          const Source* const   source,
          const unsigned        first,
          const unsigned        end,
          const float           pitch_fall,
          const float           interval_fall)
{
  const Frame* const frame = shop->frame;
  for (unsigned i = first; i < end; ++i) {
    const SketchNote note = {
      .tick          = frame->start + source->ticks[i],
      .length        = source->lengths[i],
      .pitch         = source->pitches[i],
      .pitch_fall    = pitch_fall,
      .interval_fall = interval_fall,
    };
    if (note.tick < frame->end && !sketch_add(sketch, note)) {
      return;
    }
  }
}

static void
copy_all(Sketch* const         sketch,
         const Workshop* const shop,
         const Source* const   source)
{
  move_copy(sketch,
            shop,
            source,
            0,
            source->n_notes,
            say_weights.pitch_bound,
            say_weights.interval_bound);
  sketch->facts.is_bound = true;
}

bool
move_repeat(Sketch* const sketch, const Workshop* const shop)
{
  copy_all(sketch, shop, shop->source);
  return sketch->n_notes > 0;
}

bool
move_return(Sketch* const sketch, const Workshop* const shop)
{
  copy_all(sketch, shop, shop->first);
  sketch->facts.of_idea = true;
  sketch->facts.of_kept = shop->first->is_kept;
  return sketch->n_notes > 1;
}

bool
move_new_notes(Sketch* const sketch, const Workshop* const shop)
{
  move_copy(
    sketch, shop, shop->source, 0, shop->source->n_notes, NO_WISH, NO_WISH);
  const Shape shape = curve_choose(shop->rng);
  const int   width = curve_width(shop->frame);
  const int   mean  = source_mean_pitch(shop->source);
  const int   high  = mean + width / 2;
  const int   low   = mean - width / 2;
  const bool  falls = shape == SHAPE_FALLING || shape == SHAPE_CONCAVE;
  curve_lay(sketch, 0, sketch->n_notes, shape, falls ? high : low, width);
  return sketch->n_notes > 1;
}

/// Return how well a sequence from another step would end and fit.
static float
sequence_worth(const Workshop* const shop,
               const Sketch* const   sketch,
               const int             steps)
{
  const SketchNote* const last = &sketch->notes[sketch->n_notes - 1];
  const int pitch = curve_step(shop->frame, last->tick, last->pitch, steps);
  const RoleRow* const row   = frame_roles(shop->frame, last->tick);
  const bool           lands = row->bears[(unsigned)pitch % N_PITCH_CLASSES];
  const bool           wide  = steps < -2 || steps > 2;
  const bool           plain = shop->frame->notes->scale_share <= 0.0F;
  const float          near  = !wide ? 1.0F : plain ? 0.0F : 0.4F;
  return lands ? near : 0.3F * near;
}

static int
choose_sequence(const Workshop* const shop, const Sketch* const sketch)
{
  float worths[N_SEQUENCES];
  for (int i = 0; i < N_SEQUENCES; ++i) {
    const int steps = i < SEQUENCE_STEP ? i - SEQUENCE_STEP : i - 3;
    worths[i]       = sequence_worth(shop, sketch, steps);
  }
  const int pick = (int)rng_pick(shop->rng, worths, N_SEQUENCES);
  return pick < SEQUENCE_STEP ? pick - SEQUENCE_STEP : pick - 3;
}

/// Move every note by so many steps of the scale or, where the rung has chord
/// tones alone and steps are wide, by what that is for the first note.
static void
move_by_steps(Sketch* const sketch, const Workshop* const shop, const int steps)
{
  Frame* const     frame = shop->frame;
  const SketchNote first = sketch->notes[0];
  const int        to    = curve_step(frame, first.tick, first.pitch, steps);
  const bool       plain = frame->notes->scale_share <= 0.0F;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    SketchNote* const note = &sketch->notes[i];
    note->pitch =
      (int16_t)(plain ? note->pitch + to - first.pitch
                      : curve_step(frame, note->tick, note->pitch, steps));
  }
}

bool
move_sequence(Sketch* const sketch, const Workshop* const shop)
{
  copy_all(sketch, shop, shop->source);
  if (sketch->n_notes < LEAST_LINE) {
    return false;
  }
  sketch->facts.from_pitch = (unsigned)sketch->notes[0].pitch;
  move_by_steps(sketch, shop, choose_sequence(shop, sketch));
  return true;
}

bool
move_turn_over(Sketch* const sketch, const Workshop* const shop)
{
  copy_all(sketch, shop, shop->source);
  const int middle = source_mean_pitch(shop->source); // The line's mirror
  bool      moves  = false;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    SketchNote* const note = &sketch->notes[i];
    moves                  = moves || note->pitch != shop->source->pitches[0];
    note->pitch            = (int16_t)(2 * middle - note->pitch);
    note->pitch_fall       = say_weights.pitch_loose;
  }
  return sketch->n_notes >= LEAST_LINE && moves;
}
