/// @file tests/unit/hear/invented.h Players who never lived, and what they
/// play: every note's written place is known.

#ifndef TESTS_UNIT_HEAR_INVENTED_H
#define TESTS_UNIT_HEAR_INVENTED_H

#include "fixture.h"

enum {
  INVENTED_BARS   = 4, ///< In a turn
  INVENTED_TASTES = 3  ///< Quavers, triplets, sixteenths
};

/// How someone plays, in all turns alike.
typedef struct {
  double bpm;
  double lag_ms;
  double spread_ms;
  double ratio; ///< Long : short of quavers; 1 is even
  float  tastes[INVENTED_TASTES];
} InventedPlayer;

/// Invent a player at a tempo within bounds, as late or early as people are.
InventedPlayer
invented_player(Rng* rng, double least_bpm, double most_bpm);

/// Invent a turn: the fixture is opened, its notes, places and ornaments are
/// written.
void
invented_turn(Fixture* fixture, const InventedPlayer* player, Rng* rng);

#endif // TESTS_UNIT_HEAR_INVENTED_H
