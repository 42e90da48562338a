#include "responder/say/say.h"

#include "responder/say/judge.h"
#include "responder/say/line.h"
#include "responder/say/moves.h"
#include "responder/say/perform.h"
#include "responder/say/plain.h"
#include "responder/say/rhythm.h"
#include "responder/say/weights.h"
#include "responder/say/why.h"

#include <math.h>
#include <stddef.h>

enum {
  FIRST_IDEA     = 1,
  RETURN_ANSWERS = 2, // Said since, before there is anything to return from
};

/// A return to what was just played would be none.
static const float STILL_THE_SAME = 0.75F;

/// The best candidate so far.
typedef struct {
  bool   any;
  double faults;
} Best;

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
open_source(SayWork* const work, const SayRequest* const request)
{
  const Idea* const first  = ideas_get(request->ideas, FIRST_IDEA);
  const Idea* const latest = latest_idea(request->ideas);
  const Idea* const idea =
    request->treatment == TREAT_FRAGMENTS && first != NULL ? first : latest;
  work->first       = first != NULL ? source_of_idea(first) : (Source){0};
  work->source      = source_of_phrase(request->call);
  work->source_idea = idea_of(request->call, true);
  if (work->source.n_notes == 0 && idea != NULL) {
    work->source      = source_of_idea(idea);
    work->source_idea = *idea;
  }
  // What is too like the first idea cannot come back to it
  if (first != NULL &&
      idea_likeness(&work->source_idea, first).whole >= STILL_THE_SAME) {
    work->first.n_notes = 0;
  }
}

static void
hear_candidate(SayWork* const work, const SayRequest* const request)
{
  Answer* const answer = &work->candidate;
  hear_written(&answer->heard,
               &request->ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               request->start,
               request->end);
  const bool  returns = work->sketch.deed.move == MOVE_RETURN;
  const Idea* to =
    returns ? ideas_get(request->ideas, FIRST_IDEA) : &work->source_idea;
  const Idea own   = idea_of(&answer->heard, false);
  answer->likeness = to != NULL ? idea_likeness(&own, to) : (Likeness){0};
  answer->move     = work->sketch.deed.move;
  answer->digest   = judge_digest(&answer->heard);
}

/// Draw lines for the sketch at hand and keep the best of them.
static void
try_sketch(Answer* const           answer,
           SayWork* const          work,
           const SayRequest* const request,
           const double            handicap,
           Best* const             best,
           Rng* const              rng)
{
  Frame* const  frame  = &work->frame;
  Sketch* const sketch = &work->sketch;
  rhythm_fit(sketch, frame, rng);
  if (sketch->n_notes == 0 ||
      !line_solve(&work->problem, &work->solver, frame, sketch, rng)) {
    return;
  }
  for (unsigned i = 0; i < CANDIDATE_DRAWS; ++i) {
    path_draw(&work->solver, &work->problem, rng, work->line);
    perform(&work->candidate, frame, sketch, work->line, rng);
    hear_candidate(work, request);
    const double faults =
      handicap + judge_faults(&work->candidate, frame, sketch);
    const double margin = (rng_unit(rng) - 0.5) * say_weights.same_score;
    if (judge_musts(&work->candidate, frame, sketch) &&
        (!best->any || faults + margin < best->faults)) {
      why_write(&work->candidate, frame->chart, sketch, request->treatment);
      *answer      = work->candidate;
      best->any    = true;
      best->faults = faults;
    }
  }
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

static MoveSet
bit(const Move move)
{
  return (MoveSet)(1U << (unsigned)move);
}

/// Return the moves that may not come now: a third time running, or back to
/// where we still are.
static MoveSet
barred_moves(const SayHistory* const history)
{
  const Move* const last  = history->last_moves;
  const bool        twice = history->n_answers >= 2 && last[0] == last[1];
  return (
    MoveSet)((twice ? bit(last[0]) : 0U) |
             (history->n_answers < RETURN_ANSWERS ? bit(MOVE_RETURN) : 0U));
}

static Move
pick_move(const MoveSet set, const unsigned phase, Rng* const rng)
{
  float weights[N_MOVES];
  for (unsigned m = 0; m < N_MOVES; ++m) {
    const bool in_set = set >> m & 1U;
    weights[m]        = in_set ? say_weights.form[phase][m] + 1e-4F : 0.0F;
  }
  return (Move)rng_pick(rng, weights, N_MOVES);
}

/// Try a few of a set of moves, one after the other as they are drawn.
static void
try_moves(Answer* const           answer,
          SayWork* const          work,
          const SayRequest* const request,
          const MoveSet           set,
          Best* const             best,
          Rng* const              rng)
{
  const Workshop shop  = {&work->frame, &work->source, &work->first, rng};
  const unsigned phase = form_phase(request);
  unsigned       tried = 0;
  for (MoveSet left = set; left != 0 && tried < CANDIDATE_MOVES;) {
    const Move move = pick_move(left, phase, rng);
    left            = (MoveSet)(left & ~bit(move));
    if (move_sketch(&work->sketch, &shop, move)) {
      const double handicap = tried * (double)say_weights.second_choice;
      try_sketch(answer, work, request, handicap, best, rng);
      ++tried;
    }
  }
}

/// Silence was heard: something shorter and simpler, or a fragment and a wait.
static void
try_prompt(Answer* const           answer,
           SayWork* const          work,
           const SayRequest* const request,
           Best* const             best,
           Rng* const              rng)
{
  const Workshop shop   = {&work->frame, &work->source, &work->first, rng};
  const MoveSet  simple = bit(MOVE_THIN_OUT) | bit(MOVE_REPEAT);
  if (request->treatment == TREAT_FRAGMENTS) {
    for (unsigned times = 1; times <= 2; ++times) {
      if (move_sketch(&work->sketch, &shop, MOVE_REPEAT) &&
          move_fragment_few(&work->sketch, &shop, times)) {
        try_sketch(answer, work, request, 0.0, best, rng);
      }
    }
  }
  if (!best->any) {
    try_moves(answer, work, request, simple, best, rng);
  }
}

static void
try_opening(Answer* const           answer,
            SayWork* const          work,
            const SayRequest* const request,
            Best* const             best,
            Rng* const              rng)
{
  const Workshop shop = {&work->frame, &work->source, &work->first, rng};
  for (unsigned i = 0; i < CANDIDATE_MOVES; ++i) {
    move_open(&work->sketch, &shop);
    try_sketch(answer, work, request, 0.0, best, rng);
  }
}

/// Nothing else will do: the root, on a beat or some.
static void
say_plainly(Answer* const           answer,
            SayWork* const          work,
            const SayRequest* const request,
            Rng* const              rng)
{
  const unsigned first = rng_next(rng);
  for (unsigned i = 0; i < PLAIN_ROOTS; ++i) {
    plain_root(&work->sketch, &work->frame, first + i, work->line);
    perform(&work->candidate, &work->frame, &work->sketch, work->line, rng);
    hear_candidate(work, request);
    if (judge_musts(&work->candidate, &work->frame, &work->sketch)) {
      break;
    }
  }
  why_write(
    &work->candidate, work->frame.chart, &work->sketch, request->treatment);
  *answer = work->candidate;
}

static void
try_answer(Answer* const           answer,
           SayWork* const          work,
           const SayRequest* const request,
           Best* const             best,
           Rng* const              rng)
{
  const MoveSet offered = work->frame.moves;
  const MoveSet barred  = barred_moves(request->history);
  const MoveSet easy    = bit(MOVE_THIN_OUT) | bit(MOVE_NEW_NOTES);
  try_moves(answer, work, request, (MoveSet)(offered & ~barred), best, rng);
  if (!best->any) {
    try_moves(answer, work, request, (MoveSet)(easy & ~barred), best, rng);
  }
}

void
say_answer(Answer* const           answer,
           SayWork* const          work,
           const SayRequest* const request,
           Rng* const              rng)
{
  Best best = {.any = false};
  frame_open(&work->frame, request, rng);
  open_source(work, request);
  if (work->source.n_notes == 0) {
    try_opening(answer, work, request, &best, rng);
  } else if (work->source.is_idea) {
    try_prompt(answer, work, request, &best, rng);
  } else {
    try_answer(answer, work, request, &best, rng);
  }
  if (!best.any) {
    say_plainly(answer, work, request, rng);
  }
}

bool
say_by_move(Answer* const           answer,
            SayWork* const          work,
            const SayRequest* const request,
            const Move              move,
            Rng* const              rng)
{
  Best best = {.any = false};
  frame_open(&work->frame, request, rng);
  open_source(work, request);
  const Workshop shop = {&work->frame, &work->source, &work->first, rng};
  for (unsigned i = 0; i < CANDIDATE_MOVES; ++i) {
    if (work->source.n_notes > 0 && move_sketch(&work->sketch, &shop, move)) {
      try_sketch(answer, work, request, 0.0, &best, rng);
    }
  }
  return best.any;
}

void
say_remember(SayHistory* const   history,
             const Answer* const answer,
             const bool          begins_chorus)
{
  if (begins_chorus) {
    history->n_digests = 0;
  }
  history->last_moves[1] = history->last_moves[0];
  history->last_moves[0] = answer->move;
  ++history->n_answers;
  history->digests[history->n_digests % SAY_HISTORY_CAPACITY] = answer->digest;
  if (history->n_digests < SAY_HISTORY_CAPACITY) {
    ++history->n_digests;
  }
}
