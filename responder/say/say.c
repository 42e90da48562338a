#include "responder/say/say.h"

#include "responder/say/judge.h"
#include "responder/say/line.h"
#include "responder/say/moves.h"
#include "responder/say/perform.h"
#include "responder/say/plain.h"
#include "responder/say/rhythm.h"
#include "responder/say/weights.h"
#include "responder/say/why.h"

#include <stddef.h>

enum {
  FIRST_IDEA     = 1,
  RETURN_ANSWERS = 2, // Said since, before there is anything to return from
};

/// A return to what was just played would be none.
static const float STILL_THE_SAME = 0.75F;

/// An answer in the making.
typedef struct {
  SayWork*          work;
  const SayRequest* request;
  Workshop          shop;
  Rng*              rng;
  Answer*           best;
  bool              any; ///< Whether there is a best one
  double            faults;
} Talk;

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

static Talk
open_talk(Answer* const           answer,
          SayWork* const          work,
          const SayRequest* const request,
          Rng* const              rng)
{
  frame_open(&work->frame, request, rng);
  open_source(work, request);
  line_prepare(&work->problem);
  return (Talk){.work    = work,
                .request = request,
                .shop    = {&work->frame, &work->source, &work->first, rng},
                .rng     = rng,
                .best    = answer};
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

static void
keep(Talk* const talk, const double faults)
{
  *talk->best        = talk->work->candidate;
  talk->best->faults = (float)faults;
  talk->work->deed   = talk->work->sketch.deed;
  talk->any          = true;
  talk->faults       = faults;
}

/// Draw lines for the sketch at hand and keep the best one, if it is better
/// than what there is. Of equal ones chance takes one.
static void
try_sketch(Talk* const talk, const unsigned n_draws, const double handicap)
{
  SayWork* const work   = talk->work;
  Frame* const   frame  = &work->frame;
  Sketch* const  sketch = &work->sketch;
  rhythm_fit(sketch, frame, talk->rng);
  if (sketch->n_notes == 0 ||
      !line_solve(&work->problem, &work->solver, frame, sketch, talk->rng)) {
    return;
  }
  for (unsigned i = 0; i < n_draws; ++i) {
    path_draw(&work->solver, &work->problem, talk->rng, work->line);
    perform(&work->candidate, frame, sketch, work->line, talk->rng);
    hear_candidate(work, talk->request);
    const double chance = (rng_unit(talk->rng) - 0.5) * say_weights.same_score;
    const double faults =
      handicap + chance + judge_faults(&work->candidate, frame, sketch);
    if ((!talk->any || faults < talk->faults) &&
        judge_musts(&work->candidate, frame, sketch)) {
      keep(talk, faults);
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

/// Return the moves that may not come now: a third time running, or back to
/// where we still are.
static MoveSet
barred_moves(const SayHistory* const history)
{
  const Move* const last  = history->last_moves;
  const bool        twice = history->n_answers >= 2 && last[0] == last[1];
  const bool        early = history->n_answers < RETURN_ANSWERS;
  return (MoveSet)((twice ? bit(last[0]) : 0U) |
                   (early ? bit(MOVE_RETURN) : 0U));
}

/// Whether what is developed leaves half of the turn free.
static bool
is_short(const SayWork* const work)
{
  const Source* const source = &work->source;
  const unsigned      last   = source->n_notes - 1;
  const Tick          turn   = work->frame.end - work->frame.start;
  return 2 * (source->ticks[last] + source->lengths[last]) <=
         turn + work->frame.beat;
}

/// Draw a move by its place in the form; after something short those that go
/// on from it are likelier.
static Move
pick_move(const Talk* const talk, const MoveSet set)
{
  const unsigned phase   = form_phase(talk->request);
  const MoveSet  longer  = bit(MOVE_QUESTION_AND_ANSWER) | bit(MOVE_FRAGMENT);
  const MoveSet  favours = is_short(talk->work) ? longer : 0;
  float          weights[N_MOVES];
  for (unsigned m = 0; m < N_MOVES; ++m) {
    const float gain = favours >> m & 1U ? say_weights.form_longer : 1.0F;
    const float base = say_weights.form[phase][m] + say_weights.form_least;
    weights[m]       = set >> m & 1U ? gain * base : 0.0F;
  }
  return (Move)rng_pick(talk->rng, weights, N_MOVES);
}

/// Try a few of a set of moves, as they are drawn; the later ones must be the
/// better for it, and are drawn less often.
static void
try_moves(Talk* const talk, const MoveSet set)
{
  unsigned tried = 0;
  for (MoveSet left = set; left != 0 && tried < CANDIDATE_MOVES;) {
    const Move move = pick_move(talk, left);
    left            = (MoveSet)(left & ~bit(move));
    if (move_sketch(&talk->work->sketch, &talk->shop, move)) {
      try_sketch(talk,
                 tried == 0 ? FIRST_DRAWS : LATER_DRAWS,
                 tried * (double)say_weights.second_choice);
      ++tried;
    }
  }
}

/// Silence was heard: something shorter and simpler, or a fragment and a wait.
static void
try_prompt(Talk* const talk)
{
  Sketch* const sketch = &talk->work->sketch;
  if (talk->request->treatment == TREAT_FRAGMENTS) {
    for (unsigned times = 1; times <= 2; ++times) {
      if (move_fragment_few(sketch, &talk->shop, times)) {
        try_sketch(talk, FIRST_DRAWS, 0.0);
      }
    }
  }
  if (!talk->any) {
    try_moves(talk, bit(MOVE_THIN_OUT) | bit(MOVE_REPEAT));
  }
}

static void
try_opening(Talk* const talk)
{
  for (unsigned i = 0; i < CANDIDATE_MOVES; ++i) {
    move_open(&talk->work->sketch, &talk->shop);
    try_sketch(talk, LATER_DRAWS, 0.0);
  }
}

/// What the rung offers; where nothing of it will do, what is easy.
static void
try_answer(Talk* const talk)
{
  const MoveSet barred = barred_moves(talk->request->history);
  const MoveSet easy   = bit(MOVE_THIN_OUT) | bit(MOVE_NEW_NOTES);
  try_moves(talk, (MoveSet)(talk->work->frame.moves & ~barred));
  if (!talk->any) {
    try_moves(talk, (MoveSet)(easy & ~barred));
  }
}

/// Nothing else will do: the root, on a beat or some.
static void
say_plainly(Talk* const talk)
{
  SayWork* const work  = talk->work;
  const unsigned first = rng_next(talk->rng);
  for (unsigned i = 0; i < PLAIN_ROOTS; ++i) {
    plain_root(&work->sketch, &work->frame, first + i, work->line);
    perform(
      &work->candidate, &work->frame, &work->sketch, work->line, talk->rng);
    hear_candidate(work, talk->request);
    if (judge_musts(&work->candidate, &work->frame, &work->sketch)) {
      break;
    }
  }
  keep(talk, 0.0);
}

static void
explain(const Talk* const talk)
{
  why_write(talk->best,
            talk->work->frame.chart,
            &talk->work->deed,
            talk->request->treatment);
}

void
say_answer(Answer* const           answer,
           SayWork* const          work,
           const SayRequest* const request,
           Rng* const              rng)
{
  Talk talk = open_talk(answer, work, request, rng);
  if (work->source.n_notes == 0) {
    try_opening(&talk);
  } else if (work->source.is_idea) {
    try_prompt(&talk);
  } else {
    try_answer(&talk);
  }
  if (!talk.any) {
    say_plainly(&talk);
  }
  explain(&talk);
}

bool
say_by_move(Answer* const           answer,
            SayWork* const          work,
            const SayRequest* const request,
            const Move              move,
            Rng* const              rng)
{
  Talk talk = open_talk(answer, work, request, rng);
  for (unsigned i = 0; i < CANDIDATE_MOVES; ++i) {
    if (work->source.n_notes > 0 &&
        move_sketch(&work->sketch, &talk.shop, move)) {
      try_sketch(&talk, FIRST_DRAWS, 0.0);
    }
  }
  if (talk.any) {
    explain(&talk);
  }
  return talk.any;
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
  if (history->n_digests == SAY_HISTORY_CAPACITY) {
    for (unsigned i = 1; i < SAY_HISTORY_CAPACITY; ++i) {
      history->digests[i - 1] = history->digests[i]; // The oldest is forgotten
    }
    --history->n_digests;
  }
  history->digests[history->n_digests++] = answer->digest;
}
