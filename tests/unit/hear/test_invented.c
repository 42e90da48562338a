// The listener on invented players, whose written places are known: how many
// notes it puts there, turn after turn, beside a plain rule.

#include "invented.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum {
  N_TAKES = 400,
  N_TURNS = 8, ///< Of a take, by one player
};

static Fixture fixture;

/// What was found in some takes.
typedef struct {
  double right, plain, n; ///< Notes in place
  double right_steady, n_steady;
  double graces, graces_heard, graces_right;
  double swing, n_swing; ///< Errors of the ratio's logarithm
} Tally;

/// The plain rule: the nearest of a beat's halves, thirds and quarters.
static Tick
nearest_place(const Tick tick)
{
  static const Tick places[] = {0, 240, 320, 480, 640, 720, 960};
  const Tick        line     = tick_floor(tick, 960);
  Tick              best     = 0;
  for (unsigned i = 1; i < 7; ++i) {
    best = llabs(tick - line - places[i]) < llabs(tick - line - best)
             ? places[i]
             : best;
  }
  return line + best;
}

static void
tally_turn(Tally* const tally, const InventedPlayer* const player)
{
  const Phrase* const phrase = &fixture.phrase;
  unsigned            h      = 0;
  for (unsigned i = 0; i < fixture.n_notes; ++i) {
    const Note* const note = &fixture.notes[i];
    while (h < phrase->n_notes && phrase->notes[h].note.tick < note->tick) {
      ++h;
    }
    const HeardNote* const heard =
      h < phrase->n_notes && phrase->notes[h].note.tick == note->tick
        ? &phrase->notes[h]
        : NULL;
    const bool is_grace = heard && heard->is_ornament;
    tally->graces += fixture.ornaments[i];
    tally->graces_heard += is_grace;
    tally->graces_right += is_grace && fixture.ornaments[i];
    if (!fixture.ornaments[i]) {
      const bool is_right =
        heard && !is_grace && heard->grid_tick == fixture.places[i];
      const bool is_steady = player->spread_ms <= 10;
      tally->n += 1;
      tally->right += is_right;
      tally->plain += nearest_place(note->tick) == fixture.places[i];
      tally->n_steady += is_steady;
      tally->right_steady += is_right && is_steady;
    }
  }
  if (phrase->measures.swing_ratio > 0) {
    tally->swing +=
      fabs(log((double)phrase->measures.swing_ratio / player->ratio));
    tally->n_swing += 1;
  }
}

static double
graces_f1(const Tally* const tally)
{
  return 2 * tally->graces_right / (tally->graces + tally->graces_heard);
}

static Tally
tally_takes(const uint64_t seed, const double least_bpm, const double most_bpm)
{
  Tally tally = {.n = 0};
  for (unsigned t = 0; t < N_TAKES; ++t) {
    Rng                  rng    = rng_seed(seed, t);
    const InventedPlayer player = invented_player(&rng, least_bpm, most_bpm);
    Acquaintance         known  = {.n_turns = 0};
    for (unsigned turn = 0; turn < N_TURNS; ++turn) {
      invented_turn(&fixture, &player, &rng);
      fixture.ear.acquaintance = &known;
      (void)fixture_hear(&fixture, INVENTED_BARS);
      hear_learn(&known, &fixture.ear, &fixture.phrase);
      tally_turn(&tally, &player);
    }
  }
  fprintf(stderr,
          "invented, %.0f to %.0f bpm: in place %.4f, steady %.4f, plain rule "
          "%.4f; graces F1 %.3f; swing error %.3f\n",
          least_bpm,
          most_bpm,
          tally.right / tally.n,
          tally.right_steady / tally.n_steady,
          tally.plain / tally.n,
          graces_f1(&tally),
          tally.swing / tally.n_swing);
  return tally;
}

// What is reached is a thousandth more: whatever moves a number of the ear away
// from its best is seen here
Test(invented, notes_are_put_in_their_places)
{
  const Tally tally = tally_takes(1, 60, 200);
  cr_assert_gt(tally.right / tally.n, 0.9693);
  cr_assert_gt(tally.right_steady / tally.n_steady, 0.9956);
  cr_assert_lt(tally.swing / tally.n_swing, 0.0892);
  cr_assert_gt(graces_f1(&tally), 0.819);
}

Test(invented, fast_notes_are_put_in_their_places)
{
  const Tally tally = tally_takes(2, 200, 300);
  cr_assert_gt(tally.right / tally.n, 0.891);
  cr_assert_gt(tally.right_steady / tally.n_steady, 0.8894);
}
