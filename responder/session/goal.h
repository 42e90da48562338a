/// @file responder/session/goal.h The one goal of a turn of the player's, in a
/// way of playing together that has one, and whether it was met.

#ifndef RESPONDER_SESSION_GOAL_H
#define RESPONDER_SESSION_GOAL_H

#include "core/music/chart.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"
#include "responder/session/pattern.h"

#include <stdbool.h>

typedef enum {
  GOAL_NONE,    ///< Whatever makes a phrase
  GOAL_ASK,     ///< End on a tone that wants to go on
  GOAL_CLOSE,   ///< End on the root
  GOAL_RHYTHM,  ///< Give back the rhythm
  GOAL_LANDING, ///< ... and the last note
  GOAL_WHOLE,   ///< ... and all notes
  GOAL_FEW,     ///< No more different notes over a chord than are allowed
  GOAL_LINE,    ///< A line that lands
  GOAL_AGAIN,   ///< The line again
  GOAL_LAST,    ///< Another line, that closes
  GOAL_ALONG,   ///< The rhythm of what is played along
  GOAL_ALONE,   ///< ... and of what was
  GOAL_SING,    ///< The bar before it was left free, and the phrase lands
} Goal;

enum { N_GOALS = 13 };

/// What was missing; in the order of the sentences that say it.
typedef enum {
  MISS_NOTHING, ///< The goal was met
  MISS_ASK,     ///< It came home
  MISS_ASK_OUTSIDE,
  MISS_CLOSE,
  MISS_RHYTHM,
  MISS_LANDING, ///< The rhythm came back, but not the last note
  MISS_WHOLE,   ///< ... and the last note, but not the others
  MISS_MORE,    ///< All places of a rhythm were kept, and notes added
  MISS_SOME,    ///< What there was stood in its places, but much was left out
  MISS_MOST,    ///< Most places were kept, among other notes
  MISS_NEAR,    ///< Half or more of it stood in its places, but not enough
  MISS_FEW,
  MISS_FEW_ROOT, ///< The root was to be one of them
  MISS_LINE_SHORT,
  MISS_LINE_LONG, ///< More than can be said again
  MISS_LINE,
  MISS_AGAIN,
  MISS_AGAIN_OTHER, ///< It was one that was said before, not the first
  MISS_LAST,        ///< It did not land
  MISS_LAST_SAME,
  MISS_ALONG,
  MISS_ALONE,
  MISS_SING, ///< It came before the bar was over
  MISS_SING_LANDING,
} Miss;

enum { N_MISSES = 24 };

/// What a phrase is held against.
typedef struct {
  const Chart*  chart;
  const Phrase* said;       ///< The partner's last phrase; NULL: none yet
  const Phrase* whole;      ///< ... where less of it was asked for; else NULL
  const Idea*   line;       ///< The first line of the story
  unsigned      n_notes;    ///< That are allowed over a chord
  bool          was_silent; ///< Nothing was struck in the silence before it
  bool          was_said;   ///< The phrase, in a turn before
} GoalView;

/// How much of what was played before comes back.
typedef enum { ECHO_NOTHING, ECHO_RHYTHM, ECHO_LANDING, ECHO_WHOLE } EchoPart;

/// Return how much of a cell came back. The rhythm may stand on any keys, and
/// the notes in any octave.
EchoPart
goal_echo(const Phrase* phrase, const Phrase* cell);

/// Whether a phrase came home, so that it does not ask. It has a note.
bool
goal_is_home(const Phrase* phrase, const Chart* chart);

/// Return what a phrase of one note or more missed of a goal.
Miss
goal_miss(Goal goal, const Phrase* phrase, const GoalView* view);

/// Say in a sentence whether it was met; not of GOAL_NONE.
const char*
goal_text(Goal goal, Miss miss);

#endif // RESPONDER_SESSION_GOAL_H
