/// @file tests/bench/said.h Turns as the program's report has them: written
/// ticks, pitches, chords and what is said of them, no more.

#ifndef TESTS_BENCH_SAID_H
#define TESTS_BENCH_SAID_H

#include "said_chord.h"

#include <jansson.h>

enum {
  SAID_NOTES   = 192,
  SAID_CHORDS  = 40,
  SAID_QUARTER = 960,
  SAID_BAR     = 4 * SAID_QUARTER,
  SAID_PATH    = 512,
};

typedef struct {
  long tick;   ///< Where it sounds
  long length; ///< How long it sounds
  long grid;   ///< Where it is written
  int  pitch;
  bool is_ornament;
} SaidNote;

/// One turn. Ticks count from its own first beat. The chord after the last one
/// of the turn is there, too.
typedef struct {
  long      turn; ///< Its length
  double    complexity;
  unsigned  tonic; ///< Pitch class
  bool      is_minor;
  char      move[40];
  char      why[160];
  unsigned  n_notes;
  SaidNote  notes[SAID_NOTES];
  unsigned  n_chords;
  SaidChord chords[SAID_CHORDS];
} Said;

typedef struct {
  double tempo_bpm;
  Said   call;
  Said   answer;
} Pair;

/// What is played to the program.
typedef struct {
  char     take[SAID_PATH];
  char     chart[SAID_PATH];
  char     key[8]; ///< "" for the chart's own
  unsigned bars;
  double   lead_in; ///< Quarters
} Take;

/// How the program is asked.
typedef struct {
  const char* program; ///< Path of barter
  const char* out;     ///< Where the conversation is written
  unsigned    rung;
  unsigned    seed;
  unsigned    choruses;
} Asked;

/// Let the program answer a take; return its report, to be released by
/// json_decref(), or NULL if it fails.
json_t*
said_ask(const Take* take, const Asked* asked);

/// Let the program hear a take; as said_ask().
json_t*
said_hear(const Take* take, const Asked* asked);

/// Read a turn of a report; false if there is none.
bool
said_read(Said* said, const json_t* report, unsigned turn);

/// Read the first call and its answer.
bool
said_read_pair(Pair* pair, const json_t* report);

/// Return the chord at a tick of the turn; NULL if there is none.
const SaidChord*
said_chord_at(const Said* said, long tick);

#endif // TESTS_BENCH_SAID_H
