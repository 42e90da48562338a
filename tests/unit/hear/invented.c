#include "invented.h"

#include <math.h>
#include <stdbool.h>

/// A beat as it may be filled: its places in twelfths, and how often soloists
/// fill one so, in ten thousand beats (counted over 298 solos of the Weimar
/// Jazz Database 1.2; places that only the swing of their quavers makes are
/// left out, and what is finer or odd).
typedef struct {
  uint8_t  taste;
  bool     is_straight; ///< Of one who swings it cannot be told
  uint16_t share;
  uint16_t places; ///< Bit n: n twelfths of the beat
} BeatCell;

enum { QUAVERS, TRIPLETS, SIXTEENTHS };

#define AT(twelfth) (1U << (twelfth))

static const BeatCell beat_cells[] = {
  {QUAVERS, false, 2259, 0},
  {QUAVERS, false, 1227, AT(0)},
  {QUAVERS, false, 1803, AT(0) | AT(6)},
  {QUAVERS, false, 985, AT(6)},
  {TRIPLETS, false, 315, AT(0) | AT(4) | AT(8)},
  {TRIPLETS, false, 231, AT(4) | AT(8)},
  {TRIPLETS, false, 80, AT(0) | AT(4)},
  {SIXTEENTHS, false, 335, AT(0) | AT(3) | AT(6) | AT(9)},
  {SIXTEENTHS, true, 194, AT(0) | AT(9)},
  {SIXTEENTHS, false, 163, AT(0) | AT(6) | AT(9)},
  {SIXTEENTHS, false, 162, AT(3) | AT(6) | AT(9)},
  {SIXTEENTHS, true, 122, AT(6) | AT(9)},
  {SIXTEENTHS, false, 104, AT(0) | AT(3) | AT(9)},
  {SIXTEENTHS, false, 79, AT(0) | AT(3) | AT(6)},
  {SIXTEENTHS, true, 73, AT(0) | AT(3)},
};

enum { N_BEAT_CELLS = sizeof(beat_cells) / sizeof(*beat_cells) };

/// By ear: who these players are.
static const struct {
  double lag_ms[2];    ///< Mean and standard deviation over players
  double spread_ms[2]; ///< From, to
  double ratio[2];     ///< From, to, of those who swing
  double taste;        ///< Standard deviation of its logarithm
  double grace;        ///< Share of notes on the half beats with one before
  double grace_ms[2];  ///< From, to
  double shortest_ms;  ///< Between two places that are played
  double tightest_ms;  ///< Between two notes
  double fast_bpm;     ///< Above it people keep closer time and swing less
  double grace_gap_ms; ///< Since the note before the main one
} PEOPLE =
  {{0, 25}, {4, 25}, {1.4, 2.6}, 0.7, 0.04, {40, 70}, 85, 30, 180, 280};

static double
between(Rng* const rng, const double bounds[2])
{
  return bounds[0] + (bounds[1] - bounds[0]) * rng_unit(rng);
}

InventedPlayer
invented_player(Rng* const rng, const double least_bpm, const double most_bpm)
{
  InventedPlayer player = {
    .bpm       = least_bpm + (most_bpm - least_bpm) * rng_unit(rng),
    .lag_ms    = PEOPLE.lag_ms[0] + PEOPLE.lag_ms[1] * fixture_gauss(rng),
    .spread_ms = between(rng, PEOPLE.spread_ms),
    .ratio     = rng_below(rng, 2) ? 1 : between(rng, PEOPLE.ratio),
  };
  if (player.bpm > PEOPLE.fast_bpm) {
    player.spread_ms *= PEOPLE.fast_bpm / player.bpm;
    player.ratio = pow(player.ratio, PEOPLE.fast_bpm / player.bpm);
  }
  for (unsigned i = 0; i < INVENTED_TASTES; ++i) {
    player.tastes[i] = (float)exp(PEOPLE.taste * fixture_gauss(rng));
  }
  return player;
}

/// Whether the places of a beat lie far enough apart to be played.
static bool
can_be_played(const InventedPlayer* const player, const BeatCell* const cell)
{
  const unsigned step = cell->taste == SIXTEENTHS ? 3
                        : cell->taste == TRIPLETS ? 4
                                                  : 6;
  return step * 60000 / player->bpm / 12 >= PEOPLE.shortest_ms &&
         !(cell->is_straight && player->ratio > 1);
}

static unsigned
pick_cell(const InventedPlayer* const player, Rng* const rng)
{
  float weights[N_BEAT_CELLS];
  for (unsigned i = 0; i < N_BEAT_CELLS; ++i) {
    const BeatCell* const cell = &beat_cells[i];
    weights[i]                 = can_be_played(player, cell)
                                   ? (float)cell->share * player->tastes[cell->taste]
                                   : 0;
  }
  return rng_pick(rng, weights, N_BEAT_CELLS);
}

/// Add a note where the player puts it, in ms behind the beginning.
static void
play(Fixture* const fixture,
     const double   ms,
     const Tick     place,
     const unsigned pitch,
     const bool     is_ornament)
{
  Tick tick = fixture_ticks(fixture, ms);
  if (fixture->n_notes > 0) {
    Note* const before = &fixture->notes[fixture->n_notes - 1];
    const Tick  least =
      before->tick + fixture_ticks(fixture, PEOPLE.tightest_ms);
    tick           = tick < least ? least : tick;
    before->length = before->length < tick - before->tick ? before->length
                                                          : tick - before->tick;
  }
  fixture_add(fixture, tick, 400, pitch);
  fixture->places[fixture->n_notes - 1]    = place;
  fixture->ornaments[fixture->n_notes - 1] = is_ornament;
}

static void
play_place(Fixture* const              fixture,
           const InventedPlayer* const player,
           const Tick                  place,
           const double                beats,
           const unsigned              pitch,
           Rng* const                  rng)
{
  const double ms = beats * 60000 / player->bpm + player->lag_ms +
                    player->spread_ms * fixture_gauss(rng);
  const Note* const before =
    fixture->n_notes > 0 ? &fixture->notes[fixture->n_notes - 1] : NULL;
  const bool has_room =
    !before || fixture_ticks(fixture, ms - PEOPLE.grace_gap_ms) > before->tick;
  if (has_room && place % 480 == 0 && rng_unit(rng) < PEOPLE.grace) {
    const double ahead = between(rng, PEOPLE.grace_ms);
    play(fixture, ms - ahead, place, pitch - 1, true);
  }
  play(fixture, ms, place, pitch, false);
}

void
invented_turn(Fixture* const              fixture,
              const InventedPlayer* const player,
              Rng* const                  rng)
{
  fixture_open(fixture, "4/4", "C7|F7|C7|G7", "major blues", player->bpm);
  unsigned pitch = 60 + rng_below(rng, 12);
  for (unsigned beat = 0; beat < 4 * INVENTED_BARS; ++beat) {
    const BeatCell* const cell = &beat_cells[pick_cell(player, rng)];
    for (unsigned twelfth = 0; twelfth < 12; ++twelfth) {
      if (cell->places >> twelfth & 1U) {
        const double off = cell->taste == QUAVERS && twelfth == 6
                             ? player->ratio / (1 + player->ratio)
                             : twelfth / 12.0;
        pitch += rng_below(rng, 7);
        pitch -= 3;
        pitch = pitch < 60 ? pitch + 6 : pitch > 84 ? pitch - 6 : pitch;
        play_place(fixture,
                   player,
                   (Tick)beat * 960 + 80 * (Tick)twelfth,
                   beat + off,
                   pitch,
                   rng);
      }
    }
  }
}
