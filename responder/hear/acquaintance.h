/// @file responder/hear/acquaintance.h What the listener has come to know of a
/// player, and what it therefore expects of a turn.

#ifndef RESPONDER_HEAR_ACQUAINTANCE_H
#define RESPONDER_HEAR_ACQUAINTANCE_H

#include "core/music/meter.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>

/// How a player keeps time.
typedef struct {
  double lag_ms;    ///< Late is positive
  double spread_ms; ///< Standard deviation
  double ratio;     ///< Long : short of swung eighths
} Timekeeping;

/// What a turn is heard with.
typedef struct {
  Timekeeping usual;
  double calibrated_ms; ///< A lateness that was told, tried beside the rest
  double own_ms;        ///< The player's lateness, as it has been so far
  float  own_price;     ///< Taking it, in nats; FLT_MAX: it is not known
  float  later_prices[N_LATENESSES]; ///< Taking another one: see search.h
  bool   may_swing;                  ///< Off-beats by themselves swing
  float  swung_price;                ///< More for a phrase that swings, in nats
  float  prices[N_GRIDS];            ///< More for a beat divided so, in nats
} Expectation;

/// Learned turn by turn; zeroed for a stranger. A plain value, to be kept by
/// whoever listens to more than one turn.
typedef struct {
  unsigned n_turns;
  double   lag_ms, lag_variance; ///< Of the player's usual lateness
  double   n_moved, moved_ms2;   ///< Turns, and squares of what it changed by
  double   log_ratio, ratio_variance;
  double   beats[N_GRIDS]; ///< Beats that were divided so
  Evidence evidence;       ///< Of all turns
} Acquaintance;

/**
   Return what to expect of a player.

   @param acquaintance NULL: a stranger.
   @param usual The lateness told beforehand, if any, the spread, the ratio of
   the feel.
*/
Expectation
acquaintance_expect(const Acquaintance* acquaintance,
                    Meter               meter,
                    Timekeeping         usual);

/**
   Learn from a turn that was heard. Compound meters teach nothing.

   @param beat_ms How long a beat of the meter lasts.
   @param ratio Of the feel: what a stranger's swing is taken to be.
*/
void
acquaintance_learn(Acquaintance* acquaintance,
                   const Phrase* phrase,
                   Meter         meter,
                   double        beat_ms,
                   double        ratio);

#endif // RESPONDER_HEAR_ACQUAINTANCE_H
