/// @file responder/say/counts.h What follows what in solos: tables of counts.
///
/// From the Weimar Jazz Database, 298 solos in 4/4 (127,167 notes, 65 of the
/// solos blues forms), as shipped in the R data package jazzodata 0.1.4.

#ifndef RESPONDER_SAY_COUNTS_H
#define RESPONDER_SAY_COUNTS_H

#include "core/music/path.h"

#include <stdbool.h>

/// How a beat is filled, whatever its exact division.
typedef enum {
  READING_CROTCHET, ///< One note, on the beat
  READING_QUAVERS,
  READING_OFF_BEAT, ///< One note, off the beat
  READING_HELD,     ///< None: the note before sounds on
  READING_TRIPLET,
  READING_SIXTEENTHS,
} Reading;

enum { N_READINGS = 6 };

/// Return the share of the beats after one filled in one way that are filled in
/// another.
float
counts_after(Reading before, Reading reading, bool in_blues);

/// Return the share of an interval after having come in some way.
float
counts_interval(PathCame came, int semitones);

#endif // RESPONDER_SAY_COUNTS_H
