/// @file core/notation/degrees.h A chord as a kind and what is changed in it,
/// as notation programs want it.
///
/// The kinds are MusicXML's (W3C, MusicXML 4.0, "kind-value"), and what a
/// degree counts from too ("degree-alter").

#ifndef CORE_NOTATION_DEGREES_H
#define CORE_NOTATION_DEGREES_H

#include "core/music/chord.h"

#include <stdint.h>

enum { DEGREE_CAPACITY = 2 * CHORD_TONE_CAPACITY };

typedef enum {
  DEGREE_ADD,      ///< `alter` counts from the dominant ninth's, eleventh's ...
  DEGREE_ALTER,    ///< `alter` counts from the tone that the kind has
  DEGREE_SUBTRACT, ///< `alter` is 0
} DegreeType;

typedef struct {
  uint8_t number; ///< 1..13
  int8_t  alter;  ///< Semitones
  uint8_t type;   ///< A DegreeType
} Degree;

typedef struct {
  const char* kind; ///< `dominant`; lives for ever
  unsigned    n_degrees;
  Degree      degrees[DEGREE_CAPACITY];
} ChordDegrees;

/// Take a chord apart: the kind that leaves the fewest degrees to be changed.
/// The chord is not silence.
ChordDegrees
degrees_of(const Chord* chord);

#endif // CORE_NOTATION_DEGREES_H
