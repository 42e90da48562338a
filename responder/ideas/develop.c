#include "responder/ideas/develop.h"

#include "core/music/interval.h"
#include "core/music/pitch.h"
#include "responder/say/say.h"

#include <float.h>
#include <stddef.h>
#include <stdlib.h>

enum { OCTAVES_MOST = 3 };

/// How developments are chosen: the next one is what costs least. By ear.
static const struct {
  float again;   ///< For each that there is by the same move
  float beyond;  ///< For a move that the rung does not offer yet
  float alike;   ///< Times the share of notes that the nearest one has
  float dull;    ///< Times the share of intervals that are repeats
  float same;    ///< From this share on two are one idea said twice
  float related; ///< With less likeness in rhythm and in pitch it is none
  float shape;   ///< What keeps the notes or their shape has so much of it
  float notes;   ///< New notes leave at most so much of the call
  float rhythm;  ///< A new rhythm is at most so like the call's
  int   tonal;   ///< A sequence moves no note by so many semitones more than
                 ///< another
} CHOICE = {1.0F, 0.4F, 0.8F, 0.6F, 0.6F, 0.2F, 0.5F, 0.5F, 0.8F, 2};

// Comparing

static bool
has_note(const Phrase* const phrase, const Tick place, const int pitch)
{
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament && (int)note->note.pitch == pitch &&
        note->grid_tick - phrase->start_tick == place) {
      return true;
    }
  }
  return false;
}

/// Return how many notes of a phrase, all moved by so much, stand in another.
static unsigned
shared_at(const Phrase* const a, const Phrase* const b, const int semitones)
{
  unsigned n_shared = 0;
  for (unsigned i = 0; i < a->n_notes; ++i) {
    const HeardNote* const note  = &a->notes[i];
    const Tick             place = note->grid_tick - a->start_tick;
    n_shared +=
      !note->is_ornament && has_note(b, place, note->note.pitch + semitones);
  }
  return n_shared;
}

float
develop_shared(const Phrase* const a, const Phrase* const b)
{
  const unsigned n_a  = a->n_notes - a->measures.n_ornaments;
  const unsigned n_b  = b->n_notes - b->measures.n_ornaments;
  const unsigned n    = n_a > n_b ? n_a : n_b;
  unsigned       most = 0;
  for (int octave = -OCTAVES_MOST; octave <= OCTAVES_MOST; ++octave) {
    const unsigned n_shared = shared_at(a, b, octave * OCTAVE);
    most                    = n_shared > most ? n_shared : most;
  }
  return n ? (float)most / (float)n : 1.0F;
}

/// Whether two phrases are one line, note for note in any octave, that begins
/// at different places.
static bool
is_moved(const Phrase* const a, const Phrase* const b)
{
  const Idea one   = idea_of(a, false);
  const Idea other = idea_of(b, false);
  bool       is    = one.n_notes == other.n_notes && one.n_notes > 0;
  for (unsigned i = 0; is && i < one.n_notes; ++i) {
    is = one.pitches[i] % OCTAVE == other.pitches[i] % OCTAVE &&
         one.ticks[i] - one.ticks[0] == other.ticks[i] - other.ticks[0];
  }
  return is;
}

static unsigned
first_pitch(const Phrase* const phrase)
{
  unsigned i = 0;
  while (i + 1 < phrase->n_notes && phrase->notes[i].is_ornament) {
    ++i;
  }
  return phrase->notes[i].note.pitch;
}

/// Whether a line is a phrase moved to another step, note for note, as far as
/// the steps of a scale and the chord are not all alike: no other way up or
/// down and no interval much wider or narrower.
static bool
is_sequence(const Phrase* const own, const Phrase* const call)
{
  const Idea a  = idea_of(own, false);
  const Idea b  = idea_of(call, false);
  bool       is = a.n_notes == b.n_notes && a.n_notes > 0;
  for (unsigned i = 0; is && i < a.n_notes; ++i) {
    const int first = a.pitches[0] - b.pitches[0];
    const int here  = a.pitches[i] - b.pitches[i];
    is              = first * here > 0 && abs(here - first) <= CHOICE.tonal;
    if (is && i > 0) {
      is = interval_way(a.pitches[i] - a.pitches[i - 1]) ==
           interval_way(b.pitches[i] - b.pitches[i - 1]);
    }
  }
  return is;
}

/// Whether an answer is what its move is called, beside a phrase: another
/// octave is no other step, and a copy is no development.
static bool
is_development(const Development* const way, const Phrase* const call)
{
  const Phrase* const own = &way->answer.heard;
  switch (way->answer.move) {
    case MOVE_SEQUENCE:
      return is_sequence(own, call) &&
             first_pitch(own) % OCTAVE != first_pitch(call) % OCTAVE;
    case MOVE_NEW_NOTES:
      return develop_shared(own, call) <= CHOICE.notes;
    case MOVE_NEW_RHYTHM:
      return way->likeness.rhythm <= CHOICE.rhythm;
    case MOVE_ORNAMENT:
      return own->measures.n_ornaments > 0 &&
             way->likeness.pitch >= CHOICE.shape;
    case MOVE_SHIFT:
      return way->likeness.pitch >= CHOICE.shape;
    default:
      return develop_shared(own, call) < 1.0F;
  }
}

// Making

/// Put an answer into the pool, unless it is no development.
static void
add(DevelopWork* const work, const Phrase* const call, const Idea* const idea)
{
  Development* const way = &work->pool[work->n];
  const Idea         own = idea_of(&way->answer.heard, false);
  way->likeness          = idea_likeness(&own, idea);
  way->nearness          = (way->likeness.rhythm + way->likeness.pitch) / 2.0F;
  const bool is_related  = way->answer.move == MOVE_RETURN ||
                          way->likeness.rhythm >= CHOICE.related ||
                          way->likeness.pitch >= CHOICE.related;
  if (is_related && is_development(way, call)) {
    work->nearest[work->n]   = 0.0F;
    work->is_chosen[work->n] = false;
    ++work->n;
  }
}

/// Whether a rung has crushed notes at all.
static bool
has_ornaments(const SayRequest* const request)
{
  const unsigned rung = request->rung.level[DIMENSION_ORNAMENT];
  return request->ear.ladder->ornament[rung - 1].crushed_share > 0.0F;
}

static void
fill_pool(DevelopWork* const      work,
          const SayRequest* const request,
          const uint64_t          seed)
{
  const Idea idea     = idea_of(request->call, true);
  const bool ornament = has_ornaments(request);
  work->n             = 0;
  for (unsigned i = 0; i < DEVELOP_POOL; ++i) {
    const Move move = (Move)(i % N_MOVES);
    Rng        rng  = rng_seed(seed, i);
    if ((ornament || move != MOVE_ORNAMENT) &&
        say_by_move(
          &work->pool[work->n].answer, &work->say, request, move, &rng)) {
      add(work, request->call, &idea);
    }
  }
}

// Choosing

/// Return the moves that the rung offers; the ornament is never tried above it.
static MoveSet
offered(const SayRequest* const request)
{
  const unsigned rung = request->rung.level[DIMENSION_SHAPE];
  return (MoveSet)(request->ear.ladder->shape[rung - 1].moves |
                   1U << (unsigned)MOVE_ORNAMENT);
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
      CHOICE.dull * answer->heard.measures.repeats +
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
    const Answer* const other = &work->pool[i].answer;
    const bool          shifts =
      other->move == MOVE_SHIFT || way->answer.move == MOVE_SHIFT;
    const float shared = !shifts && is_moved(&other->heard, &way->answer.heard)
                           ? 1.0F
                           : develop_shared(&other->heard, &way->answer.heard);
    if (shared > work->nearest[i]) {
      work->nearest[i] = shared;
    }
  }
}

// Sorting

/// Whether a way is nearer to the phrase than another.
static bool
is_nearer(const Development* const a, const Development* const b)
{
  return a->nearness > b->nearness;
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
