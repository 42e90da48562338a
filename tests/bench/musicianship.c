/// What "sounds like the trade" comes to: the measures of every answer and of
/// the batch, beside what they must be. Ends with 1 if a must is missed.
///
/// Calls: the fours under BARTER_TAKES, or made by chance if it is not set.
/// Each is answered as one chorus of five turns at four rungs.

#include "musicianship_takes.h"
#include "musicianship_tally.h"

#include "profiles/files/ladder_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum {
  SEEDS      = 5, // The turns of a chorus
  N_COLUMNS  = 4,
  N_OTHERS   = 19,
  MANY_SEEDS = 100,
  MANY_CALLS = 12,
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

static Calls    calls;
static Ladder   ladder;
static Thinking work;
static Answer   answer;
static Ideas    ideas;
static Tally    tallies[N_COLUMNS];

static SayRequest
request_of(const Call* const       call,
           const Rung              rung,
           const unsigned          turn,
           const SayHistory* const history)
{
  SayRequest request = {
    .ear             = ear_usual(&call->chart.chart, &ladder, call->tempo_bpm),
    .rung            = rung,
    .start           = call->turn,
    .earliest        = call->turn,
    .end             = 2 * call->turn,
    .call            = &call->phrase,
    .ideas           = &ideas,
    .history         = history,
    .lowest          = 48,
    .highest         = 84,
    .hand_span       = 12,
    .swing_ratio     = 1.5,
    .turn_in_chorus  = turn,
    .turns_in_chorus = SEEDS,
    .ends_chorus     = turn + 1 == SEEDS,
  };
  return request;
}

static void
begin_ideas(const Call* const call)
{
  const Idea idea = idea_of(&call->phrase, true);
  float      likeness;
  ideas = (Ideas){.n_ideas = 0};
  (void)ideas_meet(&ideas, &idea, &likeness);
}

/// Whether an answer's rhythm is more like its own call's than those of others.
static bool
is_picked(const unsigned own, Rng* const rng)
{
  const Idea  said = idea_of(&answer.heard, false);
  const Idea  call = idea_of(&calls.calls[own].phrase, true);
  const float like = idea_likeness(&said, &call).rhythm;
  for (unsigned i = 0; i < N_OTHERS; ++i) {
    const unsigned other =
      (own + 1 + rng_below(rng, calls.n_calls - 1)) % calls.n_calls;
    const Idea not_it = idea_of(&calls.calls[other].phrase, true);
    if (idea_likeness(&said, &not_it).rhythm >= like) {
      return false;
    }
  }
  return true;
}

static void
answer_chorus(const unsigned call, const unsigned column)
{
  SayHistory history = {.n_answers = 0};
  Rng        others  = rng_seed(call, 1000 + column);
  begin_ideas(&calls.calls[call]);
  for (unsigned turn = 0; turn < SEEDS; ++turn) {
    const SayRequest request =
      request_of(&calls.calls[call], rungs[column], turn, &history);
    Rng rng = rng_seed(turn * 1000 + call, column);
    say_answer(&answer, &work, &request, &rng);
    tally_add(&tallies[column], &answer, &request, &history);
    tallies[column].n_picked += is_picked(call, &others);
    say_remember(&history, &answer, turn == 0);
  }
}

static uint32_t
written(void)
{
  uint32_t hash = 2166136261U; // FNV-1a
  for (unsigned i = 0; i < answer.n_notes; ++i) {
    hash = (hash ^ (uint32_t)answer.grid_ticks[i]) * 16777619U;
    hash = (hash ^ answer.notes[i].pitch) * 16777619U;
    hash = (hash ^ answer.is_ornament[i]) * 16777619U;
  }
  return hash;
}

/// Return how many different answers a call has at a middle rung.
static unsigned
count_different(const unsigned call)
{
  const SayHistory none = {.n_answers = 0};
  uint32_t         seen[MANY_SEEDS];
  unsigned         n = 0;
  begin_ideas(&calls.calls[call]);
  for (unsigned seed = 0; seed < MANY_SEEDS; ++seed) {
    const SayRequest request =
      request_of(&calls.calls[call], rungs[1], 0, &none);
    Rng rng = rng_seed(seed, 77);
    say_answer(&answer, &work, &request, &rng);
    unsigned i = 0;
    while (i < n && seen[i] != written()) {
      ++i;
    }
    seen[i] = written();
    n += i == n;
  }
  return n;
}

int
main(void)
{
  static Faults     faults;
  const char* const folder = getenv("BARTER_TAKES");
  if (ladder_file_load(&ladder, BENCH_CONFIG "/ladder.cfg", &faults)) {
    fprintf(stderr, "musicianship: %s\n", faults.faults[0].text);
    return EXIT_FAILURE;
  }
  if (folder) {
    calls_load(&calls, folder, &ladder);
  } else {
    fprintf(stderr, "musicianship: BARTER_TAKES is not set; calls are made\n");
    calls_make(&calls, &ladder);
  }
  if (calls.n_calls <= N_OTHERS) {
    fprintf(stderr, "musicianship: too few calls under %s\n", folder);
    return EXIT_FAILURE;
  }
  unsigned least = MANY_SEEDS;
  for (unsigned call = 0; call < calls.n_calls; ++call) {
    for (unsigned column = 0; column < N_COLUMNS; ++column) {
      answer_chorus(call, column);
    }
    const unsigned n = call < MANY_CALLS ? count_different(call) : MANY_SEEDS;
    least            = n < least ? n : least;
  }
  printf("%u calls, %u answers to each at every rung\n", calls.n_calls, SEEDS);
  return tally_print(tallies, names, N_COLUMNS, least) ? EXIT_SUCCESS
                                                       : EXIT_FAILURE;
}
