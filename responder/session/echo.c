#include "responder/session/echo.h"

// Common practice, no source
static const unsigned misses_for_shorter = 3;

EchoStand
echo_begin(void)
{
  return (EchoStand){.n_notes = ECHO_LEAST, .asks = GOAL_RHYTHM};
}

static EchoStand
next_cell(const unsigned n_notes)
{
  return (EchoStand){.n_notes = n_notes < ECHO_LEAST  ? ECHO_LEAST
                                : n_notes > ECHO_MOST ? ECHO_MOST
                                                      : n_notes,
                     .asks    = GOAL_RHYTHM};
}

static EchoPart
part_of(const Goal goal)
{
  return (EchoPart)(ECHO_RHYTHM + (goal - GOAL_RHYTHM));
}

EchoStand
echo_go_on(EchoStand stand, const EchoPart came)
{
  if (came == ECHO_WHOLE) {
    return next_cell(stand.n_notes + 1);
  }
  if (came >= part_of(stand.asks)) {
    stand.asks     = came == ECHO_LANDING ? GOAL_WHOLE : GOAL_LANDING;
    stand.misses   = 0;
    stand.is_again = true;
    return stand;
  }
  if (++stand.misses == misses_for_shorter) {
    return next_cell(stand.n_notes - 1);
  }
  stand.is_again = true;
  return stand;
}

EchoStand
echo_wait(EchoStand stand)
{
  stand.is_again = true;
  return stand;
}
