/// @file profiles/plan/drill.h What is played before the learner, to be played
/// again: short, over a click.

#ifndef PROFILES_PLAN_DRILL_H
#define PROFILES_PLAN_DRILL_H

#include "core/music/chart.h"
#include "core/rng.h"
#include "core/tick.h"
#include "profiles/ladder/ladder.h"
#include "profiles/plan/fingering.h"

#include <stdbool.h>
#include <stdint.h>

enum { DRILL_CAPACITY = 64 };

typedef enum {
  DRILL_SCALE_RIGHT,
  DRILL_SCALE_LEFT,
  DRILL_CHORD_TONES,
  DRILL_RHYTHM,   ///< The root alone, in a rhythm
  DRILL_LANDING,  ///< Towards a chord tone
  DRILL_QUESTION, ///< A rhythm, and the same that ends at home
  DRILL_CRUSHED,  ///< Chord tones, each with a crushed note
  DRILL_LEFT_CHORDS,
} DrillKind;

enum { N_DRILLS = DRILL_LEFT_CHORDS + 1 };

/// What is told of a drill's notes.
typedef enum {
  DRILL_TELLS_ALL,
  DRILL_TELLS_PLACES, ///< When to play
  DRILL_TELLS_RUN,    ///< Once up, with fingers, before it is played
  DRILL_TELLS_CHORD,  ///< ... what is struck twice, once
} DrillTells;

/// What there is to know of a kind of drill.
typedef struct {
  const char* name;  ///< `Scale, right hand`
  const char* words; ///< How it is played
  DrillTells  tells;
  unsigned    bars;      ///< 0: as its run takes
  bool        by_rounds; ///< Over another chord of the form each round
  bool        is_scale;  ///< Of the form's beginning; else chords
  bool        is_left;   ///< For the left hand
} DrillRow;

typedef struct {
  Tick    tick; ///< From the beginning of the drill
  Tick    length;
  uint8_t pitch;
  uint8_t finger; ///< 1..5; 0 if none is told
} DrillNote;

/// What a drill is made over and for. Beats are divided as the rung of rhythm
/// allows; rhythms, landings, questions and grace notes, which are phrases,
/// also begin no more notes in a bar, and questions take no more chord tones
/// than the rung of notes. Scales and chords are played whole.
typedef struct {
  const Chart*  chart;
  const Ladder* ladder;
  unsigned      lowest; ///< The range of the right hand, an octave or more
  unsigned      split;  ///< The left hand plays below it
  unsigned      rhythm; ///< Rungs of the ladder
  unsigned      notes;
} DrillRoom;

typedef struct {
  unsigned  n_notes;
  DrillNote notes[DRILL_CAPACITY]; ///< Rising by tick
  Chord     chord;                 ///< Sounding; of the form
} Drill;

/// Return the row of a kind of drill.
const DrillRow*
drill_row(DrillKind kind);

/// Return how many bars a kind of drill takes; the echo takes as many.
unsigned
drill_bars(DrillKind kind, const DrillRoom* room);

/// Make a drill; `round` counts from 0.
void
drill_make(Drill*           drill,
           DrillKind        kind,
           const DrillRoom* room,
           unsigned         round,
           Rng*             rng);

#endif // PROFILES_PLAN_DRILL_H
