#include "responder/say/thinking.h"

#include "core/music/pitch.h"
#include "responder/say/candidates.h"
#include "responder/say/manner.h"
#include "responder/say/move_choice.h"
#include "responder/say/treat.h"
#include "responder/say/weights.h"
#include "responder/say/why.h"

#include <math.h>
#include <stddef.h>

enum { FIRST_IDEA = 1 };

/// A return to what was just played would be none.
static const float STILL_THE_SAME = 0.75F;

enum { N_RECALLED = 3 };

/// Whether an idea has more notes than another, or the other is forgotten.
static bool
has_more(const Idea* const idea, const Idea* const other)
{
  return idea != NULL && (other == NULL || idea->n_notes > other->n_notes);
}

/// Name the ideas that a silent turn is met with, the best first: of the two
/// that came last the one that has more, for a piece of a piece would soon be
/// nothing.
static void
recall(const SayRequest* const request, const Idea* ideas[N_RECALLED])
{
  const Ideas* const all    = request->ideas;
  const Idea* const  first  = ideas_get(all, FIRST_IDEA);
  const Idea* const  last   = ideas_get(all, all->last[0]);
  const Idea* const  before = ideas_get(all, all->last[1]);
  const bool         back   = has_more(before, last);
  const bool         begins = request->treatment == TREAT_FRAGMENTS;
  ideas[begins ? 0 : 2]     = first;
  ideas[begins ? 1 : 0]     = back ? before : last;
  ideas[begins ? 2 : 1]     = back ? last : before;
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

/// Take in what is to be developed.
static void
listen(Thinking* const t, const Source source, const Idea* idea, const Rng rng)
{
  t->source      = source;
  t->source_idea = *idea;
  t->rng         = mix_in(rng, &t->source);
  frame_open(&t->frame, &t->request, &t->rng);
  prompt_open(&t->call, &t->frame, &t->source);
}

/// Develop the call; where it was silent, an idea with a cell that the rung
/// allows, if there is one.
static void
open_source(Thinking* const t, const Rng rng)
{
  const Phrase* const call = t->request.call;
  const Idea          own  = idea_of(call, true);
  const Idea*         ideas[N_RECALLED];
  listen(t, source_of_phrase(call), &own, rng);
  recall(&t->request, ideas);
  const bool is_silent = t->source.n_notes == 0;
  for (unsigned i = 0; i < N_RECALLED && is_silent; ++i) {
    if (ideas[i] != NULL && prompt_is_own(&t->call)) {
      listen(t, source_of_idea(ideas[i]), ideas[i], rng);
    }
  }
  t->left  = ideas_left(t->request.ideas, &t->source_idea, STILL_THE_SAME);
  t->first = t->left != NULL ? source_of_idea(t->left) : (Source){0};
}

/// Return how long a cell may be that leaves room for its second time, or for
/// what comes beside it.
static Tick
longest_cell(const Thinking* const t)
{
  const CellWeights* const w      = &say_weights.cell;
  const Manner             manner = t->intent.manner;
  const int parts = manner == MANNER_RIFF || manner == MANNER_TALK
                      ? w->parts_briefly
                    : t->move == MOVE_FRAGMENT            ? w->parts_twice
                    : t->intent.texture == TEXTURE_ACROSS ? w->parts_across
                                                          : 1;
  return (t->frame.until - t->frame.from) / parts;
}

static void
choose_cell(Thinking* const t)
{
  const bool     twice  = t->move == MOVE_FRAGMENT;
  const unsigned onsets = t->frame.max_onsets; // The first and last are others
  const unsigned room   = onsets > 2 ? onsets - 2 : 0;
  const unsigned most   = twice ? room / 2 : room;
  const Cell*    cell =
    prompt_choose_cell(&t->call, longest_cell(t), most, &t->rng);
  t->cell = (unsigned)(cell - t->call.cells);
}

static void
draw_intent(Thinking* const t, const Manner manner)
{
  t->intent = plan_intent(&t->frame, &t->call, manner, t->move, &t->rng);
  if (t->move == MOVE_QUESTION_AND_ANSWER) {
    t->intent.closes = true;
  }
}

/// Take up another move, and with it another intent.
static bool
take_move(Thinking* const t)
{
  if (t->moves == 0) {
    return false;
  }
  t->move    = move_choice_pick(t->moves, &t->frame, &t->call, &t->rng);
  t->moves   = (MoveSet)(t->moves & ~move_choice_only(t->move));
  t->of_cell = t->source.n_notes > 0 &&
               ((unsigned)treat_moves() >> (unsigned)t->move & 1U);
  // What is wanted may have had no room
  const Manner manner = t->of_cell && t->n_slices == 0
                          ? manner_draw(&t->frame, &t->call, t->move, &t->rng)
                          : MANNER_LINE;
  draw_intent(t, manner);
  if (t->n_slices > 0) {
    t->intent.texture = TEXTURE_PLAIN;
  }
  beats_open(&t->beats, &t->frame, t->intent.texture);
  melody_open(&t->melody, &t->frame, &t->call, manner);
  t->n_left = t->of_cell ? THINK_SLICES : THINK_WHOLE_SLICES;
  choose_cell(t);
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
  open_source(t, rng);
  if (request->departs_from != NULL) {
    t->old = idea_of(request->departs_from, false);
  }
}

void
think_begin(Thinking* const t, const SayRequest* const request, const Rng rng)
{
  open_thinking(t, request, rng);
  t->moves = move_choice_offer(&t->frame, &t->call);
  (void)take_move(t);
}

/// Whether a whole phrase did not come off, over these chords and at this rung,
/// while there is another way.
static bool
is_poor(const Thinking* const t)
{
  return !t->of_cell && t->move != MOVE_RETURN && t->moves != 0 &&
         t->worth < say_weights.poor_whole;
}

/// Whether the best there is has the rhythm that is to be left.
static bool
is_caught(const Thinking* const t)
{
  return t->any && !t->departs;
}

/// Whether it is time for another cell: nothing came of this one, or nothing
/// but the rhythm that is to be left.
static bool
wants_cell(const Thinking* const t)
{
  const bool     piece = frame_is_piece(&t->frame);
  const unsigned most  = piece || t->any ? THINK_CELL : THINK_ROOM;
  return (!t->any || is_caught(t)) && t->n_slices % most == 0;
}

/// Leave a cell for another one, and so much of its weight.
static void
leave_cell(Thinking* const t, const float left)
{
  float* const weight = &t->call.weights[t->cell];
  *weight             = fmaxf(*weight * left, say_weights.cell.last_resort);
  choose_cell(t);
}

/// Whether it is time for another intent: the best line is poor, up to rungs of
/// scale tones.
static bool
wants_intent(const Thinking* const t)
{
  return t->any && t->worth < say_weights.poor_line &&
         !frame_goes_outside(&t->frame) && t->n_slices % THINK_INTENT == 0;
}

/// Draw form, close, compass and cell anew. Where the answer ends, how much it
/// says and by what divisions stays, or what is short and safe would be chosen
/// too often.
static void
intend_again(Thinking* const t)
{
  const Intent was = t->intent;
  draw_intent(t, was.manner);
  t->intent.texture = was.texture;
  t->intent.is_fine = was.is_fine;
  t->intent.goal    = was.goal;
  t->intent.notes   = was.notes;
  if (was.texture == TEXTURE_ACROSS) {
    t->intent.form = was.form; // It was chosen for the groups
  }
  leave_cell(t, say_weights.cell.poor);
}

bool
think_slice(Thinking* const t)
{
  if (t->n_slices >= THINK_SLICES) {
    return false;
  }
  ++t->n_slices;
  if (t->request.before != NULL && t->n_slices <= THINK_WHOLE_SLICES) {
    candidates_again(t);
    return t->n_slices < THINK_WHOLE_SLICES || !t->any;
  }
  if (t->of_cell) {
    if (wants_intent(t)) {
      intend_again(t);
    } else if (wants_cell(t)) {
      leave_cell(t, say_weights.cell.no_room);
    }
    candidates_of_cell(t);
  } else if (!candidates_of_whole(t)) {
    t->n_left = 1;
  }
  --t->n_left;
  if (t->n_left == 0 && is_poor(t)) {
    t->any = false;
  }
  const bool stuck =
    (!t->any || is_caught(t)) && t->n_slices % THINK_PATIENCE == 0;
  if (stuck || (t->n_left == 0 && !t->any)) {
    return take_move(t);
  }
  return t->n_left > 0 && t->n_slices < THINK_SLICES;
}

/// Say something of one's own where nothing of the source has room.
static void
think_of_own(Thinking* const t)
{
  prompt_take_own(&t->call, &t->frame);
  t->moves = move_choice_of_cell(&t->frame, &t->call);
  (void)take_move(t);
  for (unsigned i = 0; i < THINK_LEAST && !t->any; ++i) {
    candidates_of_cell(t);
  }
}

/// Whether the written notes of an answer are other ones than its source's, in
/// any octave: the chords or the rung had them otherwise.
static bool
is_fitted(const Source* const source, const Answer* const answer)
{
  unsigned n  = 0;
  bool     is = false;
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    if (!answer->is_ornament[i]) {
      is = is || n >= source->n_notes ||
           source->pitches[n] % OCTAVE != answer->notes[i].pitch % OCTAVE;
      ++n;
    }
  }
  return is || n != source->n_notes;
}

static void
give(Thinking* const t, Answer* const answer)
{
  *answer = t->best;
  if (t->facts.move == MOVE_NEW_RHYTHM && !t->facts.of_cell) {
    t->facts.is_fitted = is_fitted(&t->source, answer);
  }
  const Tick bar = meter_bar_ticks(t->frame.chart->meter);
  why_write(answer,
            t->frame.chart,
            &t->facts,
            t->request.ends_piece ? TREAT_ANSWER // No turn is left to fill it
                                  : t->request.treatment,
            t->request.ends_piece ? t->request.end - bar : INT64_MAX);
}

void
think_end(Thinking* const t, Answer* const answer)
{
  for (unsigned i = 0; i < THINK_LEAST && !t->any && think_slice(t); ++i) {
  }
  const bool tried = t->n_slices >= THINK_PATIENCE;
  if (!t->any && (tried || frame_is_piece(&t->frame))) {
    think_of_own(t);
  }
  if (!t->any) {
    candidates_plain(t);
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
  t->moves = move_choice_only(move);
  (void)take_move(t);
  for (unsigned i = 0; i < THINK_WHOLE_SLICES && t->source.n_notes > 0; ++i) {
    if (!candidates_of_whole(t)) {
      break;
    }
  }
  if (t->any) {
    give(t, answer);
  }
  return t->any;
}
