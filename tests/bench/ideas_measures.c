/// The measures of developed phrases beside what they must be, as
/// tests/bench/musicianship prints them for answers. Ends with 1 if a must is
/// missed.
///
/// Calls: the fours under BARTER_TAKES, or made by chance if it is not set.
/// Twenty developments of each over its own bars, at four rungs.

#include "ideas_calls.h"

#include "profiles/files/ladder_file.h"
#include "responder/ideas/develop.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum {
  COUNT     = 20,
  N_COLUMNS = 4,
  LOWEST    = 48,
  HIGHEST   = 84,
};

static const char* const names[N_COLUMNS] = {"rung 2",
                                             "rung 4",
                                             "rung 6",
                                             "top"};

static const Rung rungs[N_COLUMNS] = {
  {{2, 2, 2, 2}},
  {{4, 4, 4, 4}},
  {{6, 6, 6, 4}},
  {{N_NOTES_RUNGS, N_RHYTHM_RUNGS, N_SHAPE_RUNGS, N_ORNAMENT_RUNGS}},
};

/// Sums over the developments of one rung.
typedef struct {
  unsigned n_calls;
  unsigned n;
  unsigned n_landed; ///< Last note root or chord tone
  unsigned n_left;   ///< Notes outside left hanging
  unsigned n_tight;  ///< Less than .15 of the turn silent
  double   space;
  unsigned n_beyond;  ///< Beyond the learner's range
  unsigned n_untimed; ///< Outside the turn
  unsigned n_alike;   ///< The notes of another, or of the call
  unsigned n_swapped; ///< Nearer than the one before
  double   chord_share;
} Sums;

typedef struct {
  unsigned n;
  unsigned n_in_band;
  double   least;
  double   most;
  double   sum;
} MoveSums;

static Calls        calls;
static Ladder       ladder;
static DevelopWork  work;
static Developments found;
static Ideas        ideas;
static SayHistory   history;
static Sums         sums[N_COLUMNS];
static MoveSums     moves[N_MOVES];

static SayRequest
request_of(const Call* const call, const Rung rung)
{
  return (SayRequest){
    .ear             = ear_usual(&call->chart.chart, &ladder, call->tempo_bpm),
    .rung            = rung,
    .start           = 0,
    .earliest        = 0,
    .end             = call->turn,
    .call            = &call->phrase,
    .ideas           = &ideas,
    .history         = &history,
    .lowest          = LOWEST,
    .highest         = HIGHEST,
    .hand_span       = 12,
    .swing_ratio     = 1.5,
    .turns_in_chorus = 1,
  };
}

static bool
are_alike(const Phrase* const a, const Phrase* const b)
{
  bool are = a->n_notes == b->n_notes;
  for (unsigned i = 0; are && i < a->n_notes; ++i) {
    are = a->notes[i].note.pitch == b->notes[i].note.pitch &&
          a->notes[i].grid_tick == b->notes[i].grid_tick;
  }
  return are;
}

static void
count_notes(Sums* const s, const Phrase* const phrase)
{
  unsigned n_beyond = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    s->n_left += !note->is_ornament && note->role == ROLE_OUTSIDE &&
                 note->resolution == RESOLUTION_LEFT;
    n_beyond += !note->is_ornament &&
                (note->note.pitch < LOWEST || note->note.pitch > HIGHEST);
  }
  const Note last = phrase->notes[phrase->n_notes - 1].note;
  s->n_beyond += n_beyond > 0;
  s->n_untimed += phrase->notes[0].note.tick < phrase->start_tick ||
                  last.tick + last.length > phrase->end_tick;
}

static void
count_move(const Development* const way)
{
  MoveSums* const       m    = &moves[way->answer.move];
  const MoveBand* const band = &say_weights.bands[way->answer.move];
  const Likeness        is   = way->answer.likeness;
  const double          near = (double)way->nearness;
  m->least                   = m->n ? fmin(m->least, near) : near;
  m->most                    = fmax(m->most, near);
  m->sum += near;
  ++m->n;
  m->n_in_band += is.rhythm >= band->rhythm.least &&
                  is.rhythm <= band->rhythm.most && is.whole >= band->whole;
}

static void
count_ways(Sums* const s, const Phrase* const call)
{
  ++s->n_calls;
  for (unsigned i = 0; i < found.n; ++i) {
    const Phrase* const own = &found.ways[i].answer.heard;
    ++s->n;
    s->n_landed += phrase_last_written(own)->role <= ROLE_CHORD_TONE;
    s->n_tight += own->measures.space < 0.15F;
    s->space += (double)own->measures.space;
    s->chord_share += (double)own->measures.chord_share;
    s->n_alike += are_alike(own, call);
    s->n_swapped += i && found.ways[i].nearness > found.ways[i - 1].nearness;
    for (unsigned j = 0; j < i; ++j) {
      s->n_alike += are_alike(own, &found.ways[j].answer.heard);
    }
    count_notes(s, own);
    count_move(&found.ways[i]);
  }
}

static void
print_row(const char* const words,
          const char* const must,
          const double (*const values)[N_COLUMNS])
{
  printf("%-38s %-12s", words, must);
  for (unsigned i = 0; i < N_COLUMNS; ++i) {
    printf("%9.3f", (*values)[i]);
  }
  printf("\n");
}

#define ROW(words, must, value)                                                \
  do {                                                                         \
    double values[N_COLUMNS];                                                  \
    for (unsigned c = 0; c < N_COLUMNS; ++c) {                                 \
      const Sums* const s = &sums[c];                                          \
      const double      n = s->n ? s->n : 1;                                   \
      (void)n;                                                                 \
      values[c] = (value);                                                     \
    }                                                                          \
    print_row(words, must, (const double(*)[N_COLUMNS]) & values);             \
  } while (0)

static void
print_sums(void)
{
  printf("%-51s", "");
  for (unsigned i = 0; i < N_COLUMNS; ++i) {
    printf("%9s", names[i]);
  }
  printf("\n");
  ROW("developments a call, of 20", "", s->n / (double)s->n_calls);
  ROW("last note root or chord tone", "1", s->n_landed / n);
  ROW("notes outside left hanging", "0", s->n_left);
  ROW("less than .15 of the turn silent", "0", s->n_tight);
  ROW("share of the turn silent", ".21-.47", s->space / n);
  ROW("beyond the learner's range", "0", s->n_beyond);
  ROW("before the turn or after it", "0", s->n_untimed);
  ROW("with the notes of another", "0", s->n_alike);
  ROW("nearer than the one before", "0", s->n_swapped);
  ROW("chord tones, all notes", "", s->chord_share / n);
}

static void
print_moves(void)
{
  printf("\n%-28s %7s %7s %7s %7s %9s\n",
         "likeness, rhythm and pitch",
         "n",
         "least",
         "mean",
         "most",
         "in band");
  for (unsigned i = 0; i < N_MOVES; ++i) {
    const MoveSums* const m = &moves[i];
    if (m->n) {
      printf("%-28s %7u %7.2f %7.2f %7.2f %8.0f%%\n",
             move_name((Move)i),
             m->n,
             m->least,
             m->sum / m->n,
             m->most,
             100.0 * m->n_in_band / m->n);
    }
  }
}

static unsigned
missed(void)
{
  unsigned n = 0;
  for (unsigned i = 0; i < N_COLUMNS; ++i) {
    const Sums* const s = &sums[i];
    n += s->n - s->n_landed + s->n_left + s->n_tight + s->n_beyond +
         s->n_untimed + s->n_alike + s->n_swapped;
  }
  return n;
}

int
main(void)
{
  const char* const takes  = getenv("BARTER_TAKES");
  Faults            faults = {.n_faults = 0};
  if (ladder_file_load(&ladder, BENCH_CONFIG "/ladder.cfg", &faults)) {
    fprintf(stderr, "the ladder cannot be read\n");
    return EXIT_FAILURE;
  }
  if (takes) {
    calls_load(&calls, takes, &ladder);
  } else {
    calls_make(&calls, &ladder);
  }
  for (unsigned i = 0; i < calls.n_calls; ++i) {
    for (unsigned c = 0; c < N_COLUMNS && calls.calls[i].phrase.n_notes; ++c) {
      const SayRequest request = request_of(&calls.calls[i], rungs[c]);
      develop(&found, &work, &request, COUNT, i);
      count_ways(&sums[c], &calls.calls[i].phrase);
    }
  }
  printf("%u calls %s\n\n",
         calls.n_calls,
         takes ? "cut from solos" : "made by chance");
  print_sums();
  print_moves();
  return missed() ? EXIT_FAILURE : EXIT_SUCCESS;
}
