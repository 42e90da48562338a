/// What the built program says to the fours of BARTER_TAKES, measured from
/// outside by arithmetic on its report. Ends with 1 if a must is missed.
///
///   answers BARTER TABLE_OF_CHORDS FOLDER_OF_TAKES SCRATCH.mid

#include "said_sums.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  LAST_FOUR   = 999,
  CALLS       = 128,
  SEEDS       = 5,
  N_RUNGS     = 4,
  N_OTHERS    = 19,
  N_MOVES     = 64,
  CELL        = 3, // Notes
  PATH_LENGTH = 512,
};

static const unsigned rungs[N_RUNGS] = {2, 4, 6, 8};

/// Sums over the answers of one rung.
typedef struct {
  double n, notes, silence, range, rhythm, rhythm_by_chance;
  double cell, cell_by_chance, whole, starts, pickups, arrives, rests, gap;
  double last_tone, without_grace, graces_over_two, repeats, repeats_true;
  double picked, triplets, sixteenths, most_moved;
  Counts counts;
} Sums;

typedef struct {
  char     name[40];
  unsigned n;
} MoveCount;

static Pair     pairs[SEEDS][CALLS];
static unsigned n_calls;

static void
add_others(Sums* const sums, const Pair* const all, const unsigned own)
{
  const unsigned like = sums_cell(&all[own].call, &all[own].answer);
  unsigned       ties = 1;
  bool           best = like > 0;
  for (unsigned i = 1; i <= N_OTHERS && i < n_calls; ++i) {
    const Pair* const other = &all[(own + i) % n_calls];
    const unsigned    is    = sums_cell(&other->call, &all[own].answer);
    best                    = best && is <= like;
    ties += is == like;
  }
  sums->picked += best ? 1.0 / ties : 0.0;
  const Said* const next = &all[(own + 1) % n_calls].call;
  sums->rhythm_by_chance += sums_onsets_shared(next, &all[own].answer);
  sums->cell_by_chance += sums_cell(next, &all[own].answer) >= CELL;
}

static void
add_pair(Sums* const sums, const Pair* const pair)
{
  const Said* const call   = &pair->call;
  const Said* const answer = &pair->answer;
  const double      shared = sums_onsets_shared(call, answer);
  const unsigned    graces = sums_graces(answer);
  const bool        again  = strcmp(answer->move, "repeat") == 0;
  const Counts      before = sums->counts;
  ++sums->n;
  sums->notes += sums_notes(answer);
  sums->silence += sums_silence(answer);
  sums->range += sums_range(answer);
  sums->rhythm += shared;
  sums->cell += sums_cell(call, answer) >= CELL && shared < 1.0;
  sums->whole += shared >= 1.0;
  sums->starts += sums_starts_alike(call, answer);
  sums->pickups += sums_has_pickup(answer);
  sums->arrives += sums_arrives(answer);
  sums->rests += sums_rests_last(answer);
  sums->gap += sums_rest_follows(answer);
  sums->last_tone += sums_last_is_chord_tone(answer);
  sums->without_grace += graces == 0;
  sums->graces_over_two += graces > 2;
  sums->repeats += again;
  sums->repeats_true += again && sums_contour_alike(call, answer);
  sums_count(&sums->counts, answer);
  sums->triplets += sums->counts.n_triplets > before.n_triplets;
  sums->sixteenths += sums->counts.n_sixteenths > before.n_sixteenths + 1;
}

/// Return the share of the calls that have the move most used for one seed.
static double
most_moved(const Pair* const all)
{
  MoveCount moves[N_MOVES] = {0};
  unsigned  n              = 0;
  unsigned  most           = 0;
  for (unsigned call = 0; call < n_calls; ++call) {
    unsigned i = 0;
    while (i < n && strcmp(moves[i].name, all[call].answer.move) != 0) {
      ++i;
    }
    if (i == n && n < N_MOVES) {
      (void)snprintf(
        moves[n++].name, sizeof(moves->name), "%s", all[call].answer.move);
    }
    if (i < N_MOVES) {
      most = ++moves[i].n > most ? moves[i].n : most;
    }
  }
  return (double)most / n_calls;
}

static bool
ask_all(const char* const* const argv, const unsigned seed, const unsigned rung)
{
  char take[PATH_LENGTH];
  char chart[PATH_LENGTH];
  n_calls = 0;
  for (unsigned number = 1; number <= LAST_FOUR && n_calls < CALLS; ++number) {
    (void)snprintf(
      take, sizeof(take), "%s/fours/four-%03u.mid", argv[3], number);
    (void)snprintf(
      chart, sizeof(chart), "%s/fours/four-%03u.cfg", argv[3], number);
    FILE* const file = fopen(take, "r");
    if (!file) {
      continue;
    }
    (void)fclose(file);
    const Asked asked = {
      argv[1], take, chart, argv[4], argv[2], rung, seed + 1};
    if (!said_ask(&pairs[seed][n_calls++], &asked)) {
      fprintf(stderr, "answers: %s: no answer to %s\n", argv[1], take);
      return false;
    }
  }
  return n_calls > N_OTHERS;
}

static double
part(const double some, const double all)
{
  return all > 0.0 ? some / all : 0.0;
}

/// Print one row; a value out of its bounds from a column on gets a mark.
static bool
row(const char* const   what,
    const double* const values,
    const double        least,
    const double        most,
    const unsigned      from,
    const char* const   must)
{
  bool meets = true;
  printf("%-44s", what);
  for (unsigned i = 0; i < N_RUNGS; ++i) {
    const bool fails = i >= from && (values[i] < least || values[i] > most);
    printf(" %7.3f%c", values[i], fails ? '!' : ' ');
    meets = meets && !fails;
  }
  printf("  %s\n", must);
  return meets;
}

#define ROW(what, value, least, most, from, must)                              \
  do {                                                                         \
    double values[N_RUNGS];                                                    \
    for (unsigned c = 0; c < N_RUNGS; ++c) {                                   \
      const Sums* const s = &sums[c];                                          \
      values[c]           = (value);                                           \
    }                                                                          \
    meets = row(what, values, least, most, from, must) && meets;               \
  } while (0)

enum { ALL, FROM_4, FROM_6, TOP, NO_MUST };

// Figures of solos: corpus of 419 jazz solos in 4/4, mean (5-95 %)
static bool
print_line(const Sums* const sums)
{
  bool meets = true;
  ROW("last note a chord tone", s->last_tone / s->n, 1, 1, ALL, "1");
  ROW("chord tones on the beat less off it",
      part(s->counts.n_on_tones, s->counts.n_on) -
        part(s->counts.n_off_tones, s->counts.n_off),
      0,
      1,
      FROM_6,
      "above 0 (solos .53 - .49)");
  ROW("chord tones",
      part(s->counts.n_on_tones + s->counts.n_off_tones,
           s->counts.n_on + s->counts.n_off),
      0.5,
      0.65,
      TOP,
      ".50-.65 at the top (solos .51)");
  ROW("steps",
      part(s->counts.n_steps, s->counts.n_intervals),
      0.39,
      0.71,
      FROM_6,
      ".39-.71 (solos .56)");
  ROW("thirds",
      part(s->counts.n_thirds, s->counts.n_intervals),
      0.16,
      0.37,
      FROM_6,
      ".16-.37 (solos .27)");
  ROW("repeats",
      part(s->counts.n_repeats, s->counts.n_intervals),
      0,
      0.144,
      FROM_6,
      "to .14 (solos .05)");
  ROW("over a third",
      part(s->counts.n_wider, s->counts.n_intervals),
      0.04,
      0.22,
      FROM_6,
      ".04-.22 (solos .12)");
  ROW("pairs of intervals that turn round",
      part(s->counts.n_turns, s->counts.n_pairs),
      0.31,
      0.5,
      FROM_6,
      ".31-.50 (solos .40)");
  ROW("silence", s->silence / s->n, 0.21, 0.47, ALL, ".21-.47 (solos .33)");
  ROW("notes a bar",
      s->notes / s->n / 4,
      3.9,
      12.5,
      FROM_6,
      "3.9-12.5 (solos 6.8)");
  ROW("range, semitones",
      s->range / s->n,
      0,
      127,
      NO_MUST,
      "rising (solos 17 in four bars)");
  ROW("answers with triplets",
      s->triplets / s->n,
      0.4,
      1,
      FROM_6,
      "2 of 5 from rung 6");
  ROW("answers with a pair of sixteenths",
      s->sixteenths / s->n,
      0.4,
      1,
      FROM_6,
      "2 of 5 from rung 6");
  ROW("answers without a grace note",
      s->without_grace / s->n,
      0.4,
      1,
      ALL,
      "2 of 5 and more");
  ROW(
    "answers with more than two", s->graces_over_two / s->n, 0, 0, ALL, "none");
  ROW("b5 over dominants, led as it is taught",
      s->counts.n_flat_fives > 0
        ? (double)s->counts.n_flat_fives_led / s->counts.n_flat_fives
        : 1.0,
      0,
      1,
      NO_MUST,
      "1 to rung 6 (solos .24 both sides)");
  return meets;
}

static bool
print_answering(const Sums* const sums)
{
  bool meets = true;
  ROW("a cell of the call again, the rest new",
      s->cell / s->n,
      0.8,
      1,
      ALL,
      "4 of 5");
  ROW("... of another call, by chance",
      s->cell_by_chance / s->n,
      0,
      1,
      NO_MUST,
      "");
  ROW("own call picked out among 20 by its cell",
      s->picked / s->n,
      0.4,
      1,
      ALL,
      "over .4 (players .12-.20 by rhythm)");
  ROW("whole rhythm copied", s->whole / s->n, 0, 0.25, ALL, "1 of 4 at most");
  ROW("onsets shared with the call", s->rhythm / s->n, 0, 1, NO_MUST, "");
  ROW("... with another call, by chance",
      s->rhythm_by_chance / s->n,
      0,
      1,
      NO_MUST,
      "");
  ROW("starts where the call did",
      s->starts / s->n,
      0,
      1.0 / 3,
      ALL,
      "1 of 3 at most (players .16)");
  ROW("begins with a pick-up",
      s->pickups / s->n,
      0.1,
      1,
      FROM_4,
      ".1 from rung 4 (players .21)");
  ROW("... at the top", s->pickups / s->n, 0.2, 1, TOP, ".2");
  ROW("ends on 1 or 3, or anticipates one",
      s->arrives / s->n,
      0.7,
      1,
      ALL,
      "7 of 10");
  ROW("last note no shorter than the one before",
      s->rests / s->n,
      0.7,
      1,
      ALL,
      "7 of 10");
  ROW("an eighth of rest follows", s->gap / s->n, 0.7, 1, ALL, "7 of 10");
  ROW("repeats that keep the call's contour",
      s->repeats > 0 ? s->repeats_true / s->repeats : 1.0,
      1,
      1,
      ALL,
      "all");
  ROW("calls with one move for one seed, most",
      s->most_moved,
      0,
      0.5,
      ALL,
      "half at most");
  return meets;
}

int
main(const int argc, const char** const argv)
{
  static Sums sums[N_RUNGS];
  if (argc != 5) {
    fprintf(stderr, "answers: BARTER CHORDS.csv TAKES SCRATCH.mid expected\n");
    return 2;
  }
  for (unsigned column = 0; column < N_RUNGS; ++column) {
    Sums* const s = &sums[column];
    for (unsigned seed = 0; seed < SEEDS; ++seed) {
      if (!ask_all(argv, seed, rungs[column])) {
        return 3;
      }
      for (unsigned call = 0; call < n_calls; ++call) {
        add_pair(s, &pairs[seed][call]);
        add_others(s, pairs[seed], call);
      }
      const double most = most_moved(pairs[seed]);
      s->most_moved     = most > s->most_moved ? most : s->most_moved;
    }
  }
  printf("\nFrom outside: %u fours, %u seeds\n%-44s", n_calls, SEEDS, "");
  printf(" rung 2   rung 4   rung 6   rung 8    must\n");
  const bool line      = print_line(sums);
  const bool answering = print_answering(sums);
  return line && answering ? EXIT_SUCCESS : EXIT_FAILURE;
}
