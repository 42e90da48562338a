#include "tally.h"

#include "said_colours.h"

#include <stdio.h>
#include <string.h>

enum {
  N_OTHERS = 19,
  CELL     = 3, // Notes
  WIDE     = 15,
  // Beats of four sixteenths: .05 of solos' beats at 140-180 bpm, .015 up to
  // 240, .006 above (Weimar Jazz Database)
  QUICK_BPM = 200,
  // As the shipped settings have them
  LOWEST  = 60,
  HIGHEST = 84,
  HAND    = 12,
  // More than an answer may be called: by its move, or as what it is beside one
  N_NAMES = 64,
};

typedef struct {
  char     name[sizeof((Said){0}.move)];
  unsigned n;
} MoveCount;

static void
add_line(Sums* const sums, const Pair* const pair)
{
  const Said* const answer = &pair->answer;
  const double      space  = sums_silence(answer);
  const unsigned    graces = sums_graces(answer);
  sums->least_space =
    sums->n == 0 || space < sums->least_space ? space : sums->least_space;
  ++sums->n;
  sums->notes += sums_notes(answer);
  sums->bars += (double)answer->turn / SAID_BAR;
  sums->silence += space;
  sums->range += sums_range(answer);
  sums->complexity += answer->complexity;
  sums->at_home += colours_at_home(answer, &pair->call);
  sums->last_tone += sums_last_is_chord_tone(answer);
  sums->hanging += colours_hanging(answer);
  sums->out_of_range += colours_out_of_range(answer, LOWEST, HIGHEST);
  sums->out_of_turn += colours_out_of_turn(answer);
  sums->stretches += colours_stretches(answer, pair->tempo_bpm, HAND);
  sums->without_grace += graces == 0;
  sums->graces_over_one += graces > 1;
  sums->graces_over_two += graces > 2;
}

static void
add_colours(Sums* const sums, const Said* const answer, const double tempo_bpm)
{
  const bool unhurried = tempo_bpm <= QUICK_BPM;

  const Counts before = sums->counts;
  sums_count(&sums->counts, answer);
  sums->triplets += sums->counts.n_triplets > before.n_triplets;
  sums->unhurried += unhurried;
  sums->sixteenths += unhurried && colours_has_pair(answer);
  sums->outside += colours_outside(answer) > 0;
  sums->runs += colours_has_run(answer);
  sums->wide += sums_range(answer) >= WIDE;
  sums->threes += colours_has_threes(answer);
}

static void
add_end(Sums* const sums, const Said* const answer)
{
  const Line line = line_of(answer);
  if (line.n > 0) {
    const long grid  = line.notes[line.n - 1]->grid + SAID_BAR;
    const long place = grid % SAID_BAR * EIGHTHS / SAID_BAR;
    ++sums->ends[place];
    sums->last_bar += grid >= answer->turn;
  }
  sums->arrives += sums_arrives(answer);
  sums->rests += sums_rests_last(answer);
  sums->gap += sums_rest_follows(answer);
}

void
tally_add(Sums* const sums, const Pair* const pair)
{
  const double   shared = sums_onsets_shared(&pair->call, &pair->answer);
  const unsigned words  = words_find(&pair->answer);
  add_line(sums, pair);
  add_colours(sums, &pair->answer, pair->tempo_bpm);
  add_end(sums, &pair->answer);
  sums->cell += sums_cell(&pair->call, &pair->answer) >= CELL && shared < 1.0;
  sums->whole += shared >= 1.0;
  sums->copies += sums_is_copy(&pair->call, &pair->answer) &&
                  strcmp(pair->answer.move, "repeat") != 0 &&
                  strcmp(pair->answer.move, "return") != 0;
  sums->rhythm += sums_rhythm_likeness(&pair->call, &pair->answer);
  sums->starts += sums_starts_alike(&pair->call, &pair->answer);
  sums->pickups += sums_has_pickup(&pair->answer);
  ++sums->words[words];
  if (words < N_WORDS) {
    sums->words_true[words] += words_are_true(words, pair);
  }
}

void
tally_add_others(Sums* const       sums,
                 const Pair* const pairs,
                 const unsigned    n,
                 const unsigned    own)
{
  const Said* const answer = &pairs[own].answer;
  const unsigned    like   = sums_cell(&pairs[own].call, answer);
  unsigned          ties   = 1;
  unsigned          chance = 0;
  double            rhythm = 0.0;
  bool              best   = like > 0;
  unsigned          i      = 1;
  for (; i <= N_OTHERS && i < n; ++i) {
    const Said* const other  = &pairs[(own + i) % n].call;
    const double      shared = sums_onsets_shared(other, answer);
    const unsigned    is     = sums_cell(other, answer);
    best                     = best && is <= like;
    ties += is == like;
    chance += is >= CELL && shared < 1.0;
    rhythm += sums_rhythm_likeness(other, answer);
  }
  sums->picked += best ? 1.0 / ties : 0.0;
  sums->cell_by_chance += (double)chance / (i - 1);
  sums->rhythm_by_chance += rhythm / (i - 1);
}

double
tally_most_moved(const Pair* const pairs, const unsigned n)
{
  MoveCount moves[N_NAMES] = {0};
  unsigned  n_moves        = 0;
  unsigned  most           = 0;
  for (unsigned call = 0; call < n; ++call) {
    unsigned i = 0;
    while (i < n_moves && strcmp(moves[i].name, pairs[call].answer.move) != 0) {
      ++i;
    }
    if (i == n_moves && n_moves < N_NAMES) {
      MoveCount* const move = &moves[n_moves++];
      memcpy(move->name, pairs[call].answer.move, sizeof(move->name));
    }
    if (i < N_NAMES) {
      most = ++moves[i].n > most ? moves[i].n : most;
    }
  }
  return (double)most / n;
}
