#include "responder/say/thinking.h"

#include "responder/say/beats.h"
#include "responder/say/compass.h"
#include "responder/say/finish.h"
#include "responder/say/judge.h"
#include "responder/say/moves.h"
#include "responder/say/perform.h"
#include "responder/say/plain.h"
#include "responder/say/rhythm.h"
#include "responder/say/treat.h"
#include "responder/say/weights.h"
#include "responder/say/why.h"
#include "responder/say/worth.h"

#include <stddef.h>
#include <stdlib.h>

enum {
  FIRST_IDEA     = 1,
  RETURN_ANSWERS = 2, // Said since, before there is anything to return from
  FEW_TONES      = 2, // Of a chord: with so few a rung has no shapes
};

/// A return to what was just played would be none.
static const float STILL_THE_SAME = 0.75F;

static MoveSet
bit(const Move move)
{
  return (MoveSet)(1U << (unsigned)move);
}

static const Idea*
latest_idea(const Ideas* const ideas)
{
  const Idea* latest = NULL;
  for (unsigned i = 0; i < ideas->n_ideas; ++i) {
    if (latest == NULL || ideas->ideas[i].id > latest->id) {
      latest = &ideas->ideas[i];
    }
  }
  return latest;
}

/// Choose what to develop: the call, or, where it was silent, an idea.
static void
open_source(Thinking* const t)
{
  const SayRequest* const request = &t->request;
  const Idea* const       first   = ideas_get(request->ideas, FIRST_IDEA);
  const Idea* const       latest  = latest_idea(request->ideas);
  const Idea* const       idea =
    request->treatment == TREAT_FRAGMENTS && first != NULL ? first : latest;
  t->source      = source_of_phrase(request->call);
  t->source_idea = idea_of(request->call, true);
  if (t->source.n_notes == 0 && idea != NULL) {
    t->source      = source_of_idea(idea);
    t->source_idea = *idea;
  }
  t->left  = ideas_left(request->ideas, &t->source_idea, STILL_THE_SAME);
  t->first = t->left != NULL ? source_of_idea(t->left) : (Source){0};
}

/// The call decides, not the seed: mix its notes into the source of chance.
static Rng
mix_in(const Rng rng, const Source* const source)
{
  Rng      copy = rng;
  uint64_t hash = rng_next(&copy);
  for (unsigned i = 0; i < source->n_notes; ++i) {
    hash = (hash ^ (uint64_t)source->ticks[i]) * 1099511628211U;
    hash = (hash ^ source->pitches[i]) * 1099511628211U;
  }
  return rng_seed(hash ^ rng_next(&copy), rng.stream >> 1);
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
                   (request->departs ? same : 0U));
}

// The moves that trace the call's rhythm attack for attack
static MoveSet
copying_moves(void)
{
  return (MoveSet)(bit(MOVE_REPEAT) | bit(MOVE_ORNAMENT) | bit(MOVE_FILL_IN));
}

// ... and those that trace its notes
static MoveSet
tracing_moves(void)
{
  return (MoveSet)(copying_moves() | bit(MOVE_THIN_OUT) | bit(MOVE_NEW_RHYTHM));
}

/// Return how well a move answers the call as it is: a dense one is thinned, a
/// thin one filled, a riff riffed.
static float
fits_call(const Thinking* const t, const Move move)
{
  const SayWeights* const w = &say_weights;
  switch (move) {
    case MOVE_THIN_OUT:
      return t->call.per_bar >= (double)w->dense_call ? 1.0F : w->unfit;
    case MOVE_FILL_IN:
      return t->call.per_bar <= (double)w->thin_call ? 1.0F : w->unfit;
    case MOVE_FRAGMENT:
      return t->call.is_riff ? w->riffed : 1.0F;
    case MOVE_NEW_NOTES:
      return t->call.is_riff && t->frame.freedom <= 0.0 ? w->unriffed : 1.0F;
    default:
      return 1.0F;
  }
}

static Move
pick_move(Thinking* const t)
{
  const unsigned phase    = form_phase(&t->request);
  const bool     has_cell = (t->moves & treat_moves()) != 0;
  const MoveSet  spared   = !has_cell                ? 0
                            : t->frame.freedom > 0.0 ? tracing_moves()
                                                     : copying_moves();
  const float    left =
    t->frame.freedom > 0.0 ? say_weights.tracing : say_weights.copying;
  float weights[N_MOVES];
  for (unsigned m = 0; m < N_MOVES; ++m) {
    const float base  = say_weights.form[phase][m] + say_weights.form_least;
    const float spare = (unsigned)spared >> m & 1U ? left : 1.0F;
    weights[m]        = (unsigned)t->moves >> m & 1U
                          ? spare * base * fits_call(t, (Move)m)
                          : 0.0F;
  }
  return (Move)rng_pick(&t->rng, weights, N_MOVES);
}

/// Take up another move, and with it another intent.
static bool
take_move(Thinking* const t)
{
  if (t->moves == 0) {
    return false;
  }
  t->move   = pick_move(t);
  t->moves  = (MoveSet)(t->moves & ~bit(t->move));
  t->intent = plan_intent(&t->frame, &t->call, &t->rng);
  if (t->n_slices > 0) {
    t->intent.texture = TEXTURE_PLAIN; // What is wanted has no room
  }
  t->of_cell = t->source.n_notes > 0 &&
               ((unsigned)treat_moves() >> (unsigned)t->move & 1U);
  t->n_left = t->of_cell ? THINK_SLICES : THINK_WHOLE_SLICES;
  if (t->move == MOVE_QUESTION_AND_ANSWER) {
    t->intent.closes = true;
  }
  const Cell* const cell = prompt_choose_cell(&t->call, &t->rng);
  t->cell                = (unsigned)(cell - t->call.cells);
  return true;
}

static void
open_thinking(Thinking* const t, const SayRequest* const request, const Rng rng)
{
  t->request          = *request;
  t->request.earliest = tick_least(request->earliest, request->start);
  t->n_slices         = 0;
  t->any              = false;
  t->worth            = 0.0;
  open_source(t);
  t->rng = mix_in(rng, &t->source);
  frame_open(&t->frame, &t->request, &t->rng);
  prompt_open(&t->call, &t->frame, &t->source);
}

void
think_begin(Thinking* const t, const SayRequest* const request, const Rng rng)
{
  open_thinking(t, request, rng);
  const MoveSet easy  = bit(MOVE_THIN_OUT) | bit(MOVE_NEW_NOTES);
  const bool    riffs = t->call.is_riff && t->frame.freedom <= 0.0;
  const MoveSet rung =
    (MoveSet)(t->frame.moves | (riffs ? bit(MOVE_FRAGMENT) : 0U));
  const MoveSet may     = (MoveSet)((rung | easy) & ~barred_moves(request));
  const MoveSet offered = (MoveSet)(rung & may);
  const MoveSet planned = (MoveSet)(may & treat_moves());
  t->moves              = offered != 0 ? offered : may;
  if (t->source.is_idea) {
    t->moves = bit(MOVE_THIN_OUT) | bit(MOVE_REPEAT);
  } else if (t->source.n_notes == 0) {
    t->moves = bit(MOVE_NEW_NOTES);
  } else if (request->ends_piece) {
    t->moves = planned != 0 ? planned : bit(MOVE_NEW_NOTES); // With a goal
  }
  (void)take_move(t);
}

// One candidate

static void
hear_candidate(Thinking* const t)
{
  Answer* const     answer  = &t->candidate;
  const SayRequest* request = &t->request;
  hear_written(&answer->heard,
               &request->ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               request->start,
               request->end);
  const bool  returns = t->sketch.deed.move == MOVE_RETURN;
  const Idea* to      = returns ? t->left : &t->source_idea;
  const Idea  own     = idea_of(&answer->heard, false);
  answer->likeness    = to != NULL ? idea_likeness(&own, to) : (Likeness){0};
  answer->move        = t->sketch.deed.move;
  answer->digest      = judge_digest(&answer->heard);
}

/// Play the line at hand, hear it, and keep it if it has what it must.
static void
try_line(Thinking* const t, const double worth)
{
  finish_lengths(&t->sketch, &t->frame, &t->draft, &t->rng);
  perform(&t->candidate, &t->frame, &t->sketch, t->line, &t->rng);
  hear_candidate(t);
  const double faults = t->draft.is_whole
                          ? judge_faults(&t->candidate, &t->frame, &t->sketch)
                          : 0.0;
  const double judged = worth - 4.0 * faults; // By ear
  if ((!t->any || judged > t->worth) &&
      judge_musts(&t->candidate, &t->frame, &t->sketch)) {
    t->best        = t->candidate;
    t->best.faults = (float)faults;
    t->deed        = t->sketch.deed;
    t->worth       = judged;
    t->any         = true;
  }
}

// The moves that are a whole phrase by its shape, not by its rhythm alone
static MoveSet
shape_moves(void)
{
  return (MoveSet)(copying_moves() | bit(MOVE_RETURN) | bit(MOVE_SHIFT) |
                   bit(MOVE_THIN_OUT) | bit(MOVE_SEQUENCE) |
                   bit(MOVE_TURN_OVER) | bit(MOVE_NEW_RHYTHM));
}

/// Whether what the move says of the whole phrase is true of the line. A rung
/// of few notes brings back the rhythm, and so it is said.
static bool
whole_holds(Thinking* const t)
{
  Deed* const         deed   = &t->sketch.deed;
  const bool          back   = deed->move == MOVE_RETURN;
  const Source* const source = back ? &t->first : &t->source;
  const bool          only   = deed->move == MOVE_SEQUENCE ||
                    deed->move == MOVE_TURN_OVER ||
                    deed->move == MOVE_NEW_RHYTHM;
  if (deed->is_opening ||
      !((unsigned)shape_moves() >> (unsigned)deed->move & 1U)) {
    return true;
  }
  deed->of_rhythm =
    !treat_keeps_shape(&t->draft, &t->frame, source, deed, t->line);
  return !deed->of_rhythm ||
         (!only && t->frame.notes->chord_tones <= FEW_TONES);
}

/// Return how many of the notes at hand are not what is wished.
static unsigned
count_changed(const Thinking* const t)
{
  unsigned n = 0;
  for (unsigned i = 0; i < t->draft.n_notes; ++i) {
    n += t->draft.notes[i].pitch != t->line[i] ? 1 : 0;
  }
  return n;
}

/// Return what a line loses that is to be a whole phrase again.
static double
unlike(const Thinking* const t)
{
  return t->sketch.deed.is_bound
           ? (double)say_weights.unlike * count_changed(t) / t->draft.n_notes
           : 0.0;
}

static void
draw_lines(Thinking* const t, const Cell* const cell)
{
  const Candidate candidate = {
    &t->frame, &t->call, &t->intent, &t->draft, t->line};
  for (unsigned i = 0; i < THINK_LINES; ++i) {
    path_draw(&t->melody.solver, &t->melody.problem, &t->rng, t->line);
    const bool holds =
      cell == NULL
        ? whole_holds(t)
        : cell->is_own ||
            treat_holds(&t->draft, &t->frame, cell, t->move, t->line);
    const double worth =
      !holds ? 0.0 : worth_of(&candidate) - (cell == NULL ? unlike(t) : 0.0);
    if (holds && (!t->any || worth > t->worth)) {
      try_line(t, worth);
    }
  }
}

static bool
begins_twice(const Draft* const draft)
{
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    if (draft->notes[i].plant == 1) {
      return true;
    }
  }
  return false;
}

/// Make a candidate about a cell of the call.
static void
think_of_cell(Thinking* const t)
{
  const Cell* const cell  = &t->call.cells[t->cell];
  const Planting planting = treat_planting(cell, t->move, &t->frame, &t->rng);
  if (!plan_draw(&t->plan, &t->frame, &t->call, &t->intent, &t->rng) ||
      !beats_draw(
        &t->draft, &t->frame, &t->plan, &t->intent, &planting, &t->rng)) {
    return;
  }
  treat_wish(&t->draft, &t->frame, cell, t->move);
  t->sketch.deed = (Deed){.move       = t->move,
                          .is_opening = t->source.n_notes == 0,
                          .is_own     = cell->is_own,
                          .of_idea    = t->source.is_idea,
                          .of_cell    = true,
                          .at_start   = cell->begins,
                          .at_end     = cell->ends,
                          .from_pitch = cell->first_pitch,
                          .n_times    = begins_twice(&t->draft) ? 2 : 1,
                          .n_notes    = cell->n_notes};
  if (melody_solve(&t->melody,
                   &t->frame,
                   &t->draft,
                   &t->call,
                   &t->intent,
                   t->plan.contour,
                   &t->rng)) {
    draw_lines(t, cell);
  }
}

/// Make a candidate that follows a whole phrase; false if the move is not
/// possible.
static bool
think_of_whole(Thinking* const t)
{
  const Workshop shop = {&t->frame, &t->source, &t->first, &t->rng};
  const bool     fragments =
    t->request.treatment == TREAT_FRAGMENTS &&
    move_fragment_few(&t->sketch, &shop, 1 + rng_below(&t->rng, 2));
  if (t->source.n_notes == 0) {
    move_open(&t->sketch, &shop);
  } else if (!fragments && !move_sketch(&t->sketch, &shop, t->move)) {
    return false;
  }
  rhythm_fit(&t->sketch, &t->frame, &t->rng);
  if (t->sketch.n_notes == 0) {
    return true;
  }
  compass_set(&t->melody.problem, &t->sketch, &t->frame);
  t->intent.lowest  = (int)t->melody.problem.lowest;
  t->intent.highest = t->intent.lowest + (int)t->melody.problem.n_pitches - 1;
  draft_of_sketch(&t->draft, &t->frame, &t->sketch);
  if (melody_solve(&t->melody,
                   &t->frame,
                   &t->draft,
                   &t->call,
                   &t->intent,
                   CONTOUR_ARCH,
                   &t->rng)) {
    draw_lines(t, NULL);
  }
  return true;
}

/// Lay the answer before into this turn, each note wished for.
static void
copy_before(Thinking* const t)
{
  const Phrase* const before = &t->request.before->heard;
  const Tick          moved  = t->frame.start - before->start_tick;
  t->sketch.n_notes          = 0;
  t->sketch.deed             = (Deed){.move = MOVE_RETURN, .is_again = true};
  for (unsigned i = 0; i < before->n_notes; ++i) {
    const HeardNote* const note = &before->notes[i];
    const Tick             tick = note->grid_tick + moved;
    if (!note->is_ornament && tick >= t->request.earliest &&
        tick < t->frame.end) {
      (void)sketch_add(&t->sketch,
                       (SketchNote){.tick          = tick,
                                    .length        = note->grid_length,
                                    .pitch         = note->note.pitch,
                                    .pitch_fall    = say_weights.again,
                                    .interval_fall = NO_WISH,
                                    .from_call     = true});
    }
  }
}

/// Say the answer before again, fitted to the chords now, with one to three
/// notes changed.
static void
think_again(Thinking* const t)
{
  copy_before(t);
  if (t->sketch.n_notes < 2) {
    return;
  }
  compass_set(&t->melody.problem, &t->sketch, &t->frame);
  t->intent.lowest  = (int)t->melody.problem.lowest;
  t->intent.highest = t->intent.lowest + (int)t->melody.problem.n_pitches - 1;
  draft_of_sketch(&t->draft, &t->frame, &t->sketch);
  if (!melody_solve(&t->melody,
                    &t->frame,
                    &t->draft,
                    &t->call,
                    &t->intent,
                    CONTOUR_ARCH,
                    &t->rng)) {
    return;
  }
  const Candidate candidate = {
    &t->frame, &t->call, &t->intent, &t->draft, t->line};
  for (unsigned i = 0; i < THINK_LINES; ++i) {
    path_draw(&t->melody.solver, &t->melody.problem, &t->rng, t->line);
    const unsigned changed = count_changed(t);
    if (changed >= 1 && changed <= 3) {
      try_line(t, worth_of(&candidate));
    }
  }
}

bool
think_slice(Thinking* const t)
{
  if (t->n_slices >= THINK_SLICES) {
    return false;
  }
  ++t->n_slices;
  if (t->request.before != NULL && t->n_slices <= THINK_WHOLE_SLICES) {
    think_again(t);
    return t->n_slices < THINK_WHOLE_SLICES || !t->any;
  }
  if (t->of_cell) {
    think_of_cell(t);
  } else if (!think_of_whole(t)) {
    t->n_left = 1;
  }
  --t->n_left;
  const bool stuck = !t->any && t->n_slices % THINK_PATIENCE == 0;
  if (stuck || (t->n_left == 0 && !t->any)) {
    return take_move(t);
  }
  return t->n_left > 0 && t->n_slices < THINK_SLICES;
}

/// Move the last note to the nearest tonic, up or down.
static void
end_on_tonic(Thinking* const t)
{
  uint8_t* const last = &t->line[t->sketch.n_notes - 1];
  const int      up =
    ((int)t->frame.tonic - *last % N_PITCH_CLASSES + N_PITCH_CLASSES) %
    N_PITCH_CLASSES;
  const bool falls = up > N_PITCH_CLASSES / 2;
  *last            = (uint8_t)(*last + (falls ? up - N_PITCH_CLASSES : up));
}

/// Nothing else will do: the root, on a beat or some.
static void
think_plainly(Thinking* const t)
{
  const unsigned first = rng_next(&t->rng);
  for (unsigned i = 0; i < PLAIN_ROOTS; ++i) {
    plain_root(&t->sketch, &t->frame, first + i, t->line);
    if (t->frame.must_end_on_root) {
      end_on_tonic(t);
    }
    perform(&t->candidate, &t->frame, &t->sketch, t->line, &t->rng);
    hear_candidate(t);
    if (judge_musts(&t->candidate, &t->frame, &t->sketch)) {
      break;
    }
  }
  t->best        = t->candidate;
  t->best.faults = 0.0F;
  t->deed        = t->sketch.deed;
  t->any         = true;
}

static void
give(Thinking* const t, Answer* const answer)
{
  *answer = t->best;
  why_write(answer, t->frame.chart, &t->deed, t->request.treatment);
}

void
think_end(Thinking* const t, Answer* const answer)
{
  for (unsigned i = 0; i < THINK_LEAST && !t->any && think_slice(t); ++i) {
  }
  if (!t->any) {
    think_plainly(t);
  }
  give(t, answer);
}

bool
think_by_move(Thinking* const         t,
              const SayRequest* const request,
              const Move              move,
              const Rng               rng,
              Answer* const           answer)
{
  open_thinking(t, request, rng);
  t->moves = bit(move);
  (void)take_move(t);
  for (unsigned i = 0; i < THINK_WHOLE_SLICES && t->source.n_notes > 0; ++i) {
    if (!think_of_whole(t)) {
      break;
    }
  }
  if (t->any) {
    give(t, answer);
  }
  return t->any;
}
