#include "responder/ideas/develop.h"

#include "responder/say/say.h"

#include <float.h>
#include <stddef.h>

/// How developments are chosen: the next one is what costs least. By ear.
static const struct {
  float again;   ///< For each that there is by the same move
  float beyond;  ///< For a move that the rung does not offer yet
  float alike;   ///< Times the share of notes that the nearest one has
  float same;    ///< From this share on two are one idea said twice
  float related; ///< A likeness below this is no development any more
} CHOICE = {1.0F, 0.4F, 0.8F, 0.75F, 0.1F};

// Comparing

static bool
is_same_note(const Phrase* const    a,
             const HeardNote* const note,
             const Phrase* const    b,
             const HeardNote* const other)
{
  return note->grid_tick - a->start_tick == other->grid_tick - b->start_tick &&
         note->note.pitch == other->note.pitch &&
         note->is_ornament == other->is_ornament;
}

float
develop_shared(const Phrase* const a, const Phrase* const b)
{
  unsigned n_shared = 0;
  for (unsigned i = 0; i < a->n_notes; ++i) {
    bool is_shared = false;
    for (unsigned j = 0; j < b->n_notes && !is_shared; ++j) {
      is_shared = is_same_note(a, &a->notes[i], b, &b->notes[j]);
    }
    n_shared += is_shared;
  }
  const unsigned n = a->n_notes > b->n_notes ? a->n_notes : b->n_notes;
  return n ? (float)n_shared / (float)n : 1.0F;
}

// Making

/// Put an answer into the pool, unless it is the call itself or unlike it.
static void
add(DevelopWork* const work, const Phrase* const call, const Idea* const idea)
{
  Development* const way = &work->pool[work->n];
  const Idea         own = idea_of(&way->answer.heard, false);
  way->likeness          = idea_likeness(&own, idea);
  const bool is_related =
    way->answer.move == MOVE_RETURN || way->likeness.whole >= CHOICE.related;
  if (is_related && develop_shared(&way->answer.heard, call) < 1.0F) {
    work->nearest[work->n]   = 0.0F;
    work->is_chosen[work->n] = false;
    ++work->n;
  }
}

static void
fill_pool(DevelopWork* const      work,
          const SayRequest* const request,
          const uint64_t          seed)
{
  const Idea idea = idea_of(request->call, true);
  work->n         = 0;
  for (unsigned i = 0; i < DEVELOP_POOL; ++i) {
    const Move move = (Move)(i % N_MOVES);
    Rng        rng  = rng_seed(seed, i);
    if (say_by_move(
          &work->pool[work->n].answer, &work->say, request, move, &rng)) {
      add(work, request->call, &idea);
    }
  }
}

// Choosing

static MoveSet
offered(const SayRequest* const request)
{
  const Ladder* const ladder = request->ear.ladder;
  const Rung          rung   = request->rung;
  const MoveSet set = ladder->shape[rung.level[DIMENSION_SHAPE] - 1].moves;
  return ladder->ornament[rung.level[DIMENSION_ORNAMENT] - 1].crushed_share >
             0.0F
           ? (MoveSet)(set | 1U << (unsigned)MOVE_ORNAMENT)
           : set;
}

static unsigned
count_of(const Developments* const developments, const Move move)
{
  unsigned n = 0;
  for (unsigned i = 0; i < developments->n; ++i) {
    n += developments->ways[i].answer.move == move;
  }
  return n;
}

/// Return the next of the pool to be taken, DEVELOP_POOL if none may be.
static unsigned
choose(const DevelopWork* const  work,
       const Developments* const developments,
       const MoveSet             set)
{
  unsigned best  = DEVELOP_POOL;
  float    least = FLT_MAX;
  for (unsigned i = 0; i < work->n; ++i) {
    const Answer* const answer = &work->pool[i].answer;
    const bool          is_new = !(set >> (unsigned)answer->move & 1U);
    const float         cost =
      answer->faults + CHOICE.alike * work->nearest[i] +
      CHOICE.again * (float)count_of(developments, answer->move) +
      (is_new ? CHOICE.beyond : 0.0F);
    if (!work->is_chosen[i] && work->nearest[i] < CHOICE.same && cost < least) {
      least = cost;
      best  = i;
    }
  }
  return best;
}

/// Take one, and know of the others how much they have of it.
static void
take(Developments* const developments,
     DevelopWork* const  work,
     const unsigned      index)
{
  const Development* const way          = &work->pool[index];
  developments->ways[developments->n++] = *way;
  work->is_chosen[index]                = true;
  for (unsigned i = 0; i < work->n; ++i) {
    const float shared =
      develop_shared(&work->pool[i].answer.heard, &way->answer.heard);
    if (shared > work->nearest[i]) {
      work->nearest[i] = shared;
    }
  }
}

// Sorting

/// Whether a way is nearer to the phrase than another; of two that are as near
/// in rhythm or in pitch, the one that is nearer in both.
static bool
is_nearer(const Development* const a, const Development* const b)
{
  const Likeness x = a->likeness;
  const Likeness y = b->likeness;
  return x.whole > y.whole ||
         (x.whole >= y.whole && x.rhythm + x.pitch > y.rhythm + y.pitch);
}

/// Sort by insertion: there are few, and of equal ones the first stays first.
static void
sort(Developments* const developments, Development* const spare)
{
  Development* const ways = developments->ways;
  for (unsigned i = 1; i < developments->n; ++i) {
    *spare     = ways[i];
    unsigned j = i;
    for (; j > 0 && is_nearer(spare, &ways[j - 1]); --j) {
      ways[j] = ways[j - 1];
    }
    ways[j] = *spare;
  }
}

void
develop(Developments* const     developments,
        DevelopWork* const      work,
        const SayRequest* const request,
        const unsigned          count,
        const uint64_t          seed)
{
  const MoveSet set = offered(request);
  developments->n   = 0;
  fill_pool(work, request, seed);
  while (developments->n < count && developments->n < DEVELOP_MOST) {
    const unsigned index = choose(work, developments, set);
    if (index == DEVELOP_POOL) {
      break;
    }
    take(developments, work, index);
  }
  sort(developments, &work->pool[0]);
}
