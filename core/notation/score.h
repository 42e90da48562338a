/// @file core/notation/score.h What is to be engraved: parts on staves, over
/// the chords of a chart.
///
/// Two parts and more, each on one staff or two; chord symbols over the first.
/// Off-beats are written even, and swing is said once.

#ifndef CORE_NOTATION_SCORE_H
#define CORE_NOTATION_SCORE_H

#include "core/music/chart.h"
#include "core/notation/accidentals.h"
#include "core/notation/written.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stddef.h>

enum { SCORE_STAVES = 2 };

/// Words over a part, at or after the beginning of its first measure.
typedef struct {
  Tick        tick;
  const char* words; ///< UTF-8
} ScoreLabel;

/// One staff; it may be empty.
typedef struct {
  const WrittenNote* notes;
  const Column*      columns; ///< Of written_columns()
  size_t             n_columns;
} ScoreStaff;

typedef struct {
  const char*       name;
  const ScoreLabel* labels; ///< Rising
  size_t            n_labels;
  ScoreStaff        staves[SCORE_STAVES]; ///< The lower one shows if it holds
                                          ///< anything
} ScorePart;

/// What is to be written; everything it points to is the caller's.
typedef struct {
  const char*  title;
  const char*  software;    ///< What writes it: name and version
  const Chart* chart;       ///< Goes round as often as there are bars
  double       tempo_bpm;   ///< Quarters a minute
  double       swing_ratio; ///< 1: straight
  Tick         pick_up;     ///< Before the first bar: whole beats, less than a
                            ///< bar; 0
  unsigned         first_bar;      ///< Bars left out before the first; 0: none
  unsigned         n_bars;         ///< The last one's number
  bool             marks_choruses; ///< A double bar at the end of each
  const ScorePart* parts;
  unsigned         n_parts;
} Score;

/// One measure's place.
typedef struct {
  Tick     start;
  Tick     length;
  unsigned number; ///< From 1; 0: a pick-up
} ScoreMeasure;

/// Return how many measures there are, a pick-up among them.
unsigned
score_measures(const Score* score);

/// Return the place of a measure, counted from 0.
ScoreMeasure
score_measure(const Score* score, unsigned i);

/// Whether a double bar closes a measure: the end of a chorus.
bool
score_ends_chorus(const Score* score, ScoreMeasure measure);

/// Whether off-beats are long enough for swing to be said.
bool
score_swings(const Score* score);

/// Whether a chord is named at a tick: in the first bar, where it changes, and
/// where the form begins again. There is none in a pick-up.
bool
score_names_chord(const Score* score, Tick tick);

/// Whether a part needs its lower staff.
bool
score_has_two_staves(const ScorePart* part);

/// Whether a staff takes the bass clef: it lies lower than the F below middle C
/// on the whole.
bool
score_is_low(const ScoreStaff* staff);

/// Spell a note of a column, counted from its first grace note, by what it
/// leads to.
SpelledPitch
score_spell(const Chart*      chart,
            const ScoreStaff* staff,
            const Column*     column,
            unsigned          i);

#endif // CORE_NOTATION_SCORE_H
