/// @file tests/support/score.h MusicXML read back, with a reader of its own:
/// what stands where, as the file says it.

#ifndef TESTS_SUPPORT_SCORE_H
#define TESTS_SUPPORT_SCORE_H

#include <stdbool.h>
#include <stddef.h>

enum { SCORE_NAME = 16, SCORE_BEAMS_READ = 5 };

/// A `note` element.
typedef struct {
  int  part; ///< From 0
  int  measure;
  int  voice;
  int  staff;    ///< 1 if none is named
  long onset;    ///< Divisions from the beginning of the measure
  long duration; ///< Divisions; 0 of a grace note
  long from;     ///< Divisions from the beginning of the part
  int  pitch;    ///< MIDI key number; -1: a rest
  int  step;     ///< 0..6, C to B
  int  octave;
  int  alter;
  bool is_grace;
  bool is_slashed;
  bool is_chord; ///< Sounds with the one before
  bool is_whole_rest;
  bool tie_start;
  bool tie_stop;
  bool tied_start;
  bool tied_stop;
  bool tuplet_start;
  bool tuplet_stop;
  int  dots;
  int  actual; ///< 0 if in no tuplet
  int  normal;
  char type[SCORE_NAME];
  char accidental[SCORE_NAME];
  bool is_courtesy;
  char beams[SCORE_BEAMS_READ + 1]; ///< b, c, e, f, h; blank: none
} ReadNote;

/// A `measure` element.
typedef struct {
  int  part;
  int  number;
  long from;
  long length; ///< The farthest that its notes reach
} ReadMeasure;

/// A `harmony` element.
typedef struct {
  long from;
  char root[SCORE_NAME]; ///< `Bb`
  char kind[32];
} ReadHarmony;

typedef struct {
  long         divisions;
  int          fifths;
  int          beats;
  int          beat_type;
  int          n_parts;
  size_t       n_notes;
  size_t       n_measures;
  size_t       n_harmonies;
  ReadNote*    notes;
  ReadMeasure* measures;
  ReadHarmony* harmonies;
} ReadScore;

/// Read a file; false if it is no score.
bool
score_read(ReadScore* score, const char* path);

void
score_read_free(ReadScore* score);

#endif // TESTS_SUPPORT_SCORE_H
