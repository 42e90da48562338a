/// @file responder/session/turn.h How a form is cut into turns.

#ifndef RESPONDER_SESSION_TURN_H
#define RESPONDER_SESSION_TURN_H

#include "core/tick.h"
#include "responder/session/pattern.h"

#include <stdbool.h>

typedef struct {
  unsigned index; ///< From 1
  bool     by_player;
  TurnTask task;
  unsigned chorus;  ///< Of the session, from 0
  Tick     silence; ///< Nobody plays from here to `start`; else the same
  Tick     start;
  Tick     end;
  unsigned first_bar;       ///< Of the session, from 1
  unsigned turn_in_chorus;  ///< Among those of the same player, from 0
  unsigned turns_in_chorus; ///< Of the same player, in this chorus
  bool     begins_chorus;   ///< The first of its player in the chorus
  bool     ends_chorus;     ///< Runs to the end of the form
} Turn;

/// What turns are cut from.
typedef struct {
  Tick     bar_ticks;
  unsigned bars_per_chorus;
  unsigned bars_per_turn;
  Way      way;
  bool     player_begins; ///< Where the way leaves it open
  bool     makes_room; ///< Of a chart opened by chart_make_room(): a group of
                       ///< bars and the same again are two turns
} TurnPlan;

/// Return a turn by its index, from 1; turns go on for ever.
Turn
turn_at(TurnPlan plan, unsigned index);

#endif // RESPONDER_SESSION_TURN_H
