/// @file tests/bench/said.h A call and the program's answer to it, as the
/// program's report has them: written ticks, pitches and chords, no more.

#ifndef TESTS_BENCH_SAID_H
#define TESTS_BENCH_SAID_H

#include <stdbool.h>
#include <stdint.h>

enum { SAID_NOTES = 256, SAID_CHORDS = 64, SAID_QUARTER = 960 };

typedef struct {
  long tick;   ///< Where it sounds
  long length; ///< How long it sounds
  long grid;   ///< Where it is written
  int  pitch;
  bool is_ornament;
} SaidNote;

/// A chord that sounds from a tick on. Tones are pitch classes, bit 0 is C.
typedef struct {
  long     tick;
  unsigned root;
  unsigned tones; ///< 0 if the table has no such chord
  char     symbol[16];
} SaidChord;

/// One turn. Ticks count from its own first beat.
typedef struct {
  long      turn; ///< Its length
  char      move[40];
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

/// What to ask of the program.
typedef struct {
  const char* program; ///< Path of barter
  const char* take;
  const char* chart;
  const char* out;   ///< The conversation is written there, and never read
  const char* table; ///< chords.csv
  unsigned    rung;
  unsigned    seed;
} Asked;

/// Let the program answer four bars; false if it does not.
bool
said_ask(Pair* pair, const Asked* asked);

/// Return the chord at a tick of the turn; NULL if there is none.
const SaidChord*
said_chord_at(const Said* said, long tick);

/// Look a chord symbol up in a table of chords.
SaidChord
said_chord(const char* symbol, const char* table);

#endif // TESTS_BENCH_SAID_H
