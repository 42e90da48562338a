#include "responder/say/move_choice.h"

#include "responder/say/treat.h"
#include "responder/say/weights.h"

#include <stdbool.h>

enum {
  RETURN_ANSWERS = 2, // Said since, before there is anything to return
  ALL_TONES      = 4, // Of a chord
};

static MoveSet
bit(const Move move)
{
  return move_choice_only(move);
}

/// Return which quarter of the chorus's form a turn stands in.
static unsigned
form_phase(const SayRequest* const request)
{
  const unsigned turns = request->turns_in_chorus;
  const unsigned turn  = request->turn_in_chorus;
  const unsigned phase = turns < N_FORM_PHASES && turn > 0
                           ? turn + N_FORM_PHASES - turns
                           : turn * N_FORM_PHASES / (turns > 0 ? turns : 1);
  return phase < N_FORM_PHASES ? phase : N_FORM_PHASES - 1;
}

/// Return the moves that may not come now: a third time running, or back to
/// where we still are.
static MoveSet
barred_moves(const SayRequest* const request)
{
  const SayHistory* const history = request->history;
  const Move* const       last    = history->last_moves;
  const bool              twice = history->n_answers >= 2 && last[0] == last[1];
  const bool              early = history->n_answers < RETURN_ANSWERS;
  const MoveSet           same  = bit(MOVE_REPEAT) | bit(MOVE_RETURN);
  const bool              open  = request->ends_chorus && !request->ends_piece;
  return (MoveSet)((twice ? bit(last[0]) : 0U) |
                   (early ? bit(MOVE_RETURN) : 0U) |
                   (open ? bit(MOVE_QUESTION_AND_ANSWER) : 0U) |
                   (request->departs_from != NULL ? same : 0U));
}

// ... the moves that trace its notes, too; where there are only chord tones,
// fewer of them or another rhythm make the phrase another
static MoveSet
tracing_moves(const bool free)
{
  const MoveSet few = bit(MOVE_THIN_OUT) | bit(MOVE_NEW_RHYTHM);
  return (MoveSet)(move_choice_copying() | (free ? few : 0U));
}

/// Whether the rung has fewer than all the tones of a chord. To say a piece of
/// the phrase twice is to say it again: no shape is plainer.
static bool
has_few(const Frame* const frame)
{
  return frame->notes->chord_tones < ALL_TONES;
}

/// Return how well a move answers the call as it is: a dense one is thinned, a
/// thin one filled, a riff riffed.
static float
fits_call(const Frame* const frame, const Prompt* const call, const Move move)
{
  const SayWeights* const w = &say_weights;
  switch (move) {
    case MOVE_THIN_OUT:
      return call->per_bar >= (double)w->dense_call ? w->thinned : w->unfit;
    case MOVE_FILL_IN:
      return call->per_bar <= (double)w->thin_call ? 1.0F : w->unfit;
    case MOVE_FRAGMENT:
      return call->is_riff ? w->riffed : 1.0F;
    case MOVE_NEW_NOTES:
      return call->is_riff && frame_is_plain(frame) ? w->unriffed : 1.0F;
    default:
      return 1.0F;
  }
}

MoveSet
move_choice_only(const Move move)
{
  return (MoveSet)(1U << (unsigned)move);
}

MoveSet
move_choice_copying(void)
{
  return (MoveSet)(bit(MOVE_REPEAT) | bit(MOVE_ORNAMENT) | bit(MOVE_FILL_IN));
}

/// Return what the rung has, and what pieces are good for: where the rhythm may
/// come with new notes, with few tones its shape may come along.
static MoveSet
rung_moves(const Frame* const frame, const Prompt* const call)
{
  const bool carries = has_few(frame) && !frame_is_piece(frame) &&
                       (frame->moves & bit(MOVE_NEW_NOTES));
  const bool pieces = has_few(frame) || call->source->is_idea ||
                      (call->is_riff && frame_is_plain(frame));
  return (MoveSet)(frame->moves | (pieces ? bit(MOVE_FRAGMENT) : 0U) |
                   (carries ? bit(MOVE_SEQUENCE) : 0U));
}

/// Return what may come now, at any rung's ease.
static MoveSet
may_come(const Frame* const frame, const Prompt* const call)
{
  const MoveSet easy = bit(MOVE_THIN_OUT) | bit(MOVE_NEW_NOTES);
  return (MoveSet)((rung_moves(frame, call) | easy) &
                   ~barred_moves(frame->request));
}

MoveSet
move_choice_of_cell(const Frame* const frame, const Prompt* const call)
{
  const MoveSet planned = (MoveSet)(may_come(frame, call) & treat_moves());
  return planned != 0 ? planned : bit(MOVE_NEW_NOTES);
}

MoveSet
move_choice_offer(const Frame* const frame, const Prompt* const call)
{
  const MoveSet may     = may_come(frame, call);
  const MoveSet offered = (MoveSet)(rung_moves(frame, call) & may);
  if (call->source->n_notes == 0) {
    return bit(MOVE_NEW_NOTES);
  }
  if (frame->request->ends_piece || call->source->is_idea) {
    return move_choice_of_cell(frame, call); // With a goal, or a piece of it
  }
  return offered != 0 ? offered : may;
}

Move
move_choice_pick(const MoveSet       moves,
                 const Frame* const  frame,
                 const Prompt* const call,
                 Rng* const          rng)
{
  const unsigned phase    = form_phase(frame->request);
  const bool     free     = !frame_is_plain(frame);
  const bool     has_cell = (moves & treat_moves()) != 0;
  const MoveSet  spared   = has_cell ? tracing_moves(free) : 0;
  const float    left     = free ? say_weights.tracing : say_weights.copying;
  float          weights[N_MOVES];
  for (unsigned m = 0; m < N_MOVES; ++m) {
    const float base  = say_weights.form[phase][m] + say_weights.form_least;
    const float spare = (unsigned)spared >> m & 1U ? left : 1.0F;
    weights[m]        = (unsigned)moves >> m & 1U
                          ? spare * base * fits_call(frame, call, (Move)m)
                          : 0.0F;
  }
  return (Move)rng_pick(rng, weights, N_MOVES);
}
