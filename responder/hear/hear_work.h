/// @file responder/hear/hear_work.h Room for the listener to work in.
///
/// Its content means nothing between calls; the caller keeps one so that
/// hearing allocates nothing and needs little stack. About 160 KiB.

#ifndef RESPONDER_HEAR_HEAR_WORK_H
#define RESPONDER_HEAR_HEAR_WORK_H

#include "responder/hear/phrase.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  HANDS_GROUP_CAPACITY = 512, ///< Notes or chords in a turn; later ones drop
  GRID_BEAT_CAPACITY   = 2 * PHRASE_CAPACITY, ///< Beats that notes may fall in
  GRID_SPLIT_CAPACITY  = 5,  ///< Ways to part the notes at a beat line
  GRID_DIVISIONS       = 11, ///< Divisions of a beat that are tried
};

/// A beat that some note may belong to.
typedef struct {
  Tick     tick;
  float    line;        ///< The same in beats from the first beat
  uint16_t first_split; ///< Fewest onsets that lie in this beat or before
  uint8_t  n_splits;
  uint8_t  chosen; ///< The division found
  uint16_t n_held; ///< How many onsets it holds
  /// By split and division: the least cost, and where it came from (the split
  /// before times GRID_DIVISIONS plus the division before).
  float   costs[GRID_SPLIT_CAPACITY][GRID_DIVISIONS];
  uint8_t came[GRID_SPLIT_CAPACITY][GRID_DIVISIONS];
} GridBeat;

/// Notes struck together.
typedef struct {
  unsigned first; ///< Index of the first of them
  unsigned n;
  unsigned top;            ///< Index of the highest
  bool     is_below_split; ///< Several, all below the split
} HandsGroup;

typedef struct {
  unsigned   n_groups;
  HandsGroup groups[HANDS_GROUP_CAPACITY];
  unsigned   n_onsets;
  unsigned   n_beats;
  float      times[PHRASE_CAPACITY]; ///< In beats from the first beat
  uint16_t   notes[PHRASE_CAPACITY]; ///< The phrase's note of each onset
  uint16_t   beats[PHRASE_CAPACITY]; ///< The beat found
  uint8_t    slots[PHRASE_CAPACITY]; ///< The place found in its division
  GridBeat   grid[GRID_BEAT_CAPACITY];
} HearWork;

#endif // RESPONDER_HEAR_HEAR_WORK_H
