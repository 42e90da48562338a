/// @file responder/session/echo.h How an echo goes on: which part of a cell is
/// to be given back, and when the cells grow.
///
/// First the rhythm, then the last note with it, then all; who gives more than
/// was asked for goes on from there. When all came, the next cell is a note
/// longer; after three misses a new one, a note shorter, is begun.

#ifndef RESPONDER_SESSION_ECHO_H
#define RESPONDER_SESSION_ECHO_H

#include "responder/session/goal.h"

#include <stdbool.h>

enum { ECHO_LEAST = 2, ECHO_MOST = 8 }; ///< Notes of a cell

/// Where an echo stands, made by echo_begin().
typedef struct {
  unsigned n_notes;  ///< Of the cell
  Goal     asks;     ///< GOAL_RHYTHM, GOAL_LANDING or GOAL_WHOLE
  unsigned misses;   ///< Running
  bool     is_again; ///< The next cell is the last one again
} EchoStand;

EchoStand
echo_begin(void);

/// Return where it stands after a turn of the player's.
EchoStand
echo_go_on(EchoStand stand, EchoPart came);

/// Return where it stands after a turn without a note: the same once more.
EchoStand
echo_wait(EchoStand stand);

#endif // RESPONDER_SESSION_ECHO_H
