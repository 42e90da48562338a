/// @file tests/takes/takes.h Real playing and what people wrote down of it,
/// from the folder that BARTER_TAKES names. Nothing of it lies in the project.

#ifndef TESTS_TAKES_TAKES_H
#define TESTS_TAKES_TAKES_H

#include "core/music/chart.h"
#include "core/music/note.h"

#include <stdbool.h>

enum {
  TAKES_NOTE_CAPACITY   = 8192,
  TAKES_TARGET_CAPACITY = 512,
  N_SOLOS               = 30,
  N_HANDS               = 10,
};

/// One note as it was played and as a transcriber has it.
typedef struct {
  Note     note;
  Tick     beat_tick; ///< The beat that it belongs to
  bool     is_on_beat;
  unsigned phrase;
} TakesNote;

/// A solo, or a call of four bars, on a click.
typedef struct {
  char      name[16];
  double    tempo_bpm;
  double    swing_ratio; ///< Median of the solo; 0 if not known
  Chart     chart;
  unsigned  n_notes;
  TakesNote notes[TAKES_NOTE_CAPACITY];
  unsigned  n_targets;
  Tick      targets[TAKES_TARGET_CAPACITY]; ///< Onsets of the notes aimed at
} Take;

/// Playing of two hands, and which of its notes are the melody.
typedef struct {
  double   ms_per_tick;
  unsigned n_notes;
  Note     notes[TAKES_NOTE_CAPACITY];
  bool     is_melody[TAKES_NOTE_CAPACITY];
  unsigned n_melody;
} TakesHands;

/// Return the folder of takes, NULL if BARTER_TAKES is not set.
const char*
takes_folder(void);

/// Load a solo, 1..N_SOLOS; false if it is not there.
bool
takes_solo(Take* take, unsigned number);

/// Return how many calls of four bars there are.
unsigned
takes_calls(void);

/// Load a call, 0..takes_calls() - 1.
bool
takes_call(Take* take, unsigned index);

/// Load the notes of any take, `rolls/r01.mid`, drums left out: as many as
/// there is room for. False if it is not there.
bool
takes_notes(TakesHands* hands, const char* name);

/// Load two hands, 1..N_HANDS; false if they are not there.
bool
takes_hands(TakesHands* hands, unsigned number);

#endif // TESTS_TAKES_TAKES_H
