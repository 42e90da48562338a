/// @file profiles/ladder/ladder.h Four dimensions of difficulty, their rungs,
/// and what each rung allows.
///
/// Values only; config/ladder.cfg is read by the settings room's getters in
/// profiles/files.

#ifndef PROFILES_LADDER_LADDER_H
#define PROFILES_LADDER_LADDER_H

#include "core/attributes.h"
#include "core/status.h"
#include "profiles/ladder/move.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum {
  DIMENSION_NOTES,
  DIMENSION_RHYTHM,
  DIMENSION_SHAPE,
  DIMENSION_ORNAMENT,
} Dimension;

enum {
  N_DIMENSIONS          = 4,
  N_NOTES_RUNGS         = 8,
  N_RHYTHM_RUNGS        = 7,
  N_SHAPE_RUNGS         = 6,
  N_ORNAMENT_RUNGS      = 4,
  RUNG_TEXT_CAPACITY    = 64,
  LADDER_WORDS_CAPACITY = 80,
};

/// Where someone stands: one rung, from 1, in each dimension. Zeroed, it is
/// not valid.
typedef struct {
  uint8_t level[N_DIMENSIONS];
} Rung;

/// What a rung of notes allows. Shares are of the notes of a line.
typedef struct {
  char    words[LADDER_WORDS_CAPACITY];
  uint8_t chord_tones;   ///< 1 the root only .. 4 all
  uint8_t range;         ///< Compass in semitones, 0..36
  float   scale_share;   ///< Scale tones aimed at, 0..1; 0 allows none
  float   outside_share; ///< Notes outside aimed at, 0..1; 0 allows none
} NotesRung;

typedef struct {
  char  words[LADDER_WORDS_CAPACITY];
  float onsets_per_bar; ///< As many as an answer may have in a 4/4 bar
  bool  eighths;        ///< Beats may be in two
  bool  swing;          ///< ... and follow the feel's ratio
  bool  off_beats;      ///< Starts off the beat, anticipations
  bool  triplets;
  bool  sixteenths;
  bool  cross_rhythm; ///< Groups that run across the bar
} RhythmRung;

typedef struct {
  char    words[LADDER_WORDS_CAPACITY];
  MoveSet moves;
} ShapeRung;

typedef struct {
  char  words[LADDER_WORDS_CAPACITY];
  float crushed_share; ///< Crushed (grace) notes a written note, 0..1
  bool  approaches;    ///< A semitone below a chord tone, in the rhythm
  bool  turns;         ///< Turns and approaches from both sides
} OrnamentRung;

typedef struct {
  NotesRung    notes[N_NOTES_RUNGS];
  RhythmRung   rhythm[N_RHYTHM_RUNGS];
  ShapeRung    shape[N_SHAPE_RUNGS];
  OrnamentRung ornament[N_ORNAMENT_RUNGS];
  Rung         start;  ///< Where a new learner begins
  uint8_t      budget; ///< What a new learner's rungs may sum to
} Ladder;

/// Return the name of a dimension: `notes`.
const char*
dimension_name(Dimension dimension);

/// Return how many rungs a dimension has.
unsigned
dimension_rungs(Dimension dimension);

/**
   Read `notes=4,rhythm=3,shape=2,ornament=1`; dimensions that are not named
   stay as they are in `rung`, and a single number (`3`) sets them all, each at
   most to its highest.

   @return STATUS_OK, STATUS_SYNTAX or STATUS_RANGE; unchanged on failure.
*/
MUST_USE Status
rung_parse(Rung* rung, const char* text);

/// Write it as rung_parse() reads it, without dimensions that are 0: not told;
/// return `buffer`.
const char*
rung_text(Rung rung, char buffer[RUNG_TEXT_CAPACITY]);

/// Write it for a sentence, `notes 3, rhythm 2, ...`, the same ones; return
/// `buffer`.
const char*
rung_words(Rung rung, char buffer[RUNG_TEXT_CAPACITY]);

#endif // PROFILES_LADDER_LADDER_H
