#include "responder/say/moves.h"

#include "responder/say/curve.h"
#include "responder/say/moves_made.h"
#include "responder/say/rhythm.h"
#include "responder/say/weights.h"

typedef bool (*MakeMove)(Sketch*, const Workshop*);

static const MakeMove makers[N_MOVES] = {
  [MOVE_REPEAT]              = move_repeat,
  [MOVE_NEW_NOTES]           = move_new_notes,
  [MOVE_NEW_RHYTHM]          = move_new_rhythm,
  [MOVE_SEQUENCE]            = move_sequence,
  [MOVE_QUESTION_AND_ANSWER] = move_question,
  [MOVE_FRAGMENT]            = move_fragment,
  [MOVE_THIN_OUT]            = move_thin_out,
  [MOVE_FILL_IN]             = move_fill_in,
  [MOVE_TURN_OVER]           = move_turn_over,
  [MOVE_SHIFT]               = move_shift,
  [MOVE_RETURN]              = move_return,
  [MOVE_ORNAMENT]            = move_repeat, // The notes come with performing
};

static void
begin(Sketch* const sketch, const Workshop* const shop, const Move move)
{
  sketch->n_notes = 0;
  sketch->facts   = (MoveFacts){.move = move, .of_idea = shop->source->is_idea};
}

bool
move_sketch(Sketch* const sketch, const Workshop* const shop, const Move move)
{
  begin(sketch, shop, move);
  return makers[move](sketch, shop);
}

void
move_open(Sketch* const sketch, const Workshop* const shop)
{
  Frame* const frame = shop->frame;
  const Tick   turn  = frame->end - frame->start;
  const Tick   until = frame->start + turn * 5 / 8;
  begin(sketch, shop, MOVE_NEW_NOTES);
  sketch->facts.is_opening = true;
  SketchNote note          = {.tick          = frame->start,
                              .length        = frame->beat,
                              .pitch_fall    = NO_WISH,
                              .interval_fall = NO_WISH};
  sketch_add(sketch, note);
  rhythm_draw(
    sketch, frame, frame->start, until, frame->max_onsets / 2, note, shop->rng);
  const int middle =
    (int)(frame->request->lowest + frame->request->highest) / 2;
  const int width = curve_width(frame);
  curve_lay(
    sketch, 0, sketch->n_notes, curve_choose(shop->rng), middle, width / 2 + 1);
  const RoleRow* const row = frame_roles(frame, frame->start);
  const int            up =
    ((int)row->root + 10 * N_PITCH_CLASSES - middle) % N_PITCH_CLASSES;
  sketch->notes[0].pitch =
    (int16_t)(middle + (up > N_PITCH_CLASSES / 2 ? up - N_PITCH_CLASSES : up));
  sketch->notes[0].pitch_fall = say_weights.opening;
}
