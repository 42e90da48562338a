/// @file profiles/sheet/sheet.h What stands on a page to practise from: the
/// chords of a form, the scale that joins each one's tones, a fingering, a
/// rhythm and a task.
///
/// Values only; pages.h lays them out, print.h draws them.

#ifndef PROFILES_SHEET_SHEET_H
#define PROFILES_SHEET_SHEET_H

#include "core/music/chart.h"
#include "profiles/ladder/ladder.h"
#include "profiles/plan/fingering.h"
#include "profiles/plan/left_hand.h"
#include "profiles/sheet/rhythm.h"
#include "profiles/sheet/task.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  SHEET_RUN_CAPACITY  = SCALE_DEGREE_CAPACITY + 1,
  SHEET_KEY_CAPACITY  = 13,
  SHEET_WHITE_KEYS    = 11, ///< On a keyboard picture
  SHEET_WORD_CAPACITY = 32,
  SHEET_GOALS         = 8,
  SHEET_RHYTHMS_MOST  = 24, ///< On a page of rhythms
};

/// What a sheet is made for; what it points to must outlive the sheet.
typedef struct {
  const Chart*  chart;
  const Ladder* ladder;
  Rung          rung;
  Dimension     task; ///< What the day's task is about
  double        tempo_bpm;
  double        swing_ratio; ///< Of the feel at this tempo; 1 is straight
  char          feel[SHEET_WORD_CAPACITY];
  unsigned      bars_per_turn;
  bool          partner_begins;
  const char*   name; ///< Whose it is; NULL: nobody's in particular
  const char*   date;
  unsigned      n_goals;
  const char*   goals[SHEET_GOALS];
  unsigned      n_rhythms; ///< Nothing but so many rhythms; 0: all the rest
  uint64_t      seed;      ///< Of these
} SheetRequest;

/// A chord with the scale that it has in some bar; each pair stands once.
typedef struct {
  unsigned  change; ///< Of the chart, the first that has it
  Scale     scale;
  HandShape left; ///< As the left hand holds it
} SheetChord;

/// A sheet, about 60 KiB.
typedef struct {
  SheetRequest request;
  unsigned     n_chords;
  SheetChord   chords[CHART_CHANGE_CAPACITY]; ///< In the order of the form
  unsigned     n_scales;
  Scale        scales[CHART_CHANGE_CAPACITY + 1]; ///< The same, each once, and
                                                  ///< the blues scale
  unsigned    n_rhythms;
  SheetRhythm rhythms[SHEET_RHYTHMS_MOST];
  char        task[TASK_TEXT_CAPACITY];
} Sheet;

/// A scale once up from its tonic to the octave, with a finger on each note.
typedef struct {
  unsigned n;
  uint8_t  pitches[SHEET_RUN_CAPACITY]; ///< From 60..71 up
  Spelling spellings[SHEET_RUN_CAPACITY];
  uint8_t  right[SHEET_RUN_CAPACITY]; ///< 1 the thumb .. 5
  uint8_t  left[SHEET_RUN_CAPACITY];
} SheetRun;

/// What a key of a keyboard picture is.
typedef enum { SHEET_ROOT, SHEET_CHORD_TONE, SHEET_SCALE_TONE } SheetRole;

typedef struct {
  uint8_t   pitch;
  SheetRole role;
  Spelling  spelling;
} SheetKey;

/// A keyboard from a C or an F up: a chord from its root to the octave above,
/// and what of the scale lies between.
typedef struct {
  uint8_t  lowest; ///< A white key
  unsigned n_keys;
  SheetKey keys[SHEET_KEY_CAPACITY]; ///< Rising
} SheetKeyboard;

/// Make a sheet; the same request gives the same one.
void
sheet_make(Sheet* sheet, const SheetRequest* request);

/// Return a scale as it is practised.
SheetRun
sheet_run(Scale scale);

/// Return the keyboard of one of the sheet's chords.
///
/// Roles are those that the listener hears: a ninth and above that the chord
/// names is colour, and told as a scale tone.
SheetKeyboard
sheet_keyboard(const Sheet* sheet, unsigned chord);

/// Whether a bar sounds as the one before it; bar 0 does not.
bool
sheet_repeats_bar(const Chart* chart, unsigned bar);

/// Return the first change of a bar, and how many it has.
unsigned
sheet_bar_changes(const Chart* chart, unsigned bar, unsigned* n_changes);

/// Whether the same bars are the same player's in every chorus.
bool
sheet_has_turns(const Sheet* sheet);

#endif // PROFILES_SHEET_SHEET_H
