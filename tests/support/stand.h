/// @file tests/support/stand.h What a session stands on in a test: a chart, a
/// feel and the ladder, as they are shipped, and usual options over them.

#ifndef TESTS_SUPPORT_STAND_H
#define TESTS_SUPPORT_STAND_H

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/session/session.h"

enum { STAND_NOTES = 20000, STAND_TURNS = 256 };

/// What was loaded; a test may change it.
extern ChartFile chart;
extern Feel      feel;
extern Ladder    ladder;

/// The test's own session.
extern Session session;

/// Everything that the session played and said.
typedef struct {
  unsigned   n_notes;
  PartNote   notes[STAND_NOTES];
  unsigned   n_turns;
  TurnRecord turns[STAND_TURNS];
  Tick       decided[STAND_TURNS]; ///< Within the step of an advance
} Log;

/// Load the shipped blues, swing and ladder, or end the test.
void
load(void);

/// Load another of the shipped charts: "waltz". Or end the test.
void
load_chart(const char* name);

/// Return two choruses over what is loaded, at 120 bpm in turns of two bars.
SessionOptions
usual(void);

/// Let `session` go on to a tick and write down what came of it.
void
advance(Log* log, Tick until);

#endif // TESTS_SUPPORT_STAND_H
