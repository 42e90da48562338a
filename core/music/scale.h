/// @file core/music/scale.h Scales by name: the notes that join chord tones.

#ifndef CORE_MUSIC_SCALE_H
#define CORE_MUSIC_SCALE_H

#include "core/attributes.h"
#include "core/music/chord.h"
#include "core/music/interval.h"
#include "core/music/spelling.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  SCALE_DEGREE_CAPACITY = 12,
  SCALE_TEXT_CAPACITY   = 40,
};

/// A kind of scale, one row of the table in scale.c, in its order.
typedef unsigned ScaleKind;

/// A scale on a tonic; a plain value. Zeroed, it is C major.
typedef struct {
  Spelling  tonic;
  ScaleKind kind;
} Scale;

/// Return how many kinds there are; kinds are 0..scale_kinds() - 1, 0 is major.
unsigned
scale_kinds(void);

/// Return the kind's name, lower case with blanks: `minor blues`.
const char*
scale_kind_name(ScaleKind kind);

/**
   Find a kind by name.

   @param[out] kind Written on success only.
   @return STATUS_OK, or STATUS_MISSING.
*/
MUST_USE Status
scale_kind_named(ScaleKind* kind, const char* name);

/// Whether two scales are one, in their spelling, too.
bool
scale_equals(Scale a, Scale b);

/// Return the degrees of a kind, from {1, 0} up, and how many there are.
const Interval*
scale_degrees(ScaleKind kind, unsigned* n_degrees);

/// Return the pitch classes of a scale; bit n: pitch class n (0 = C).
uint16_t
scale_pitch_classes(Scale scale);

/**
   Spell a pitch as the degree of the scale that it is.

   In the minor blues the flat fifth keeps its letter unless that takes a double
   flat; then it is the raised fourth.

   @return Whether it is one; `spelling` is written only then.
*/
bool
scale_spell(Scale scale, unsigned pitch, Spelling* spelling);

/// Return the scale on a tonic that can be read, see spelling_readable().
Scale
scale_readable(Scale scale);

/// Return the scale that a chord suggests by its kind (major seventh: major,
/// minor seventh: dorian, dominant: mixolydian, and so on; common practice).
Scale
scale_for_chord(const Chord* chord);

/// Write `Eb minor blues`; return `buffer`.
const char*
scale_text(Scale scale, char buffer[SCALE_TEXT_CAPACITY]);

#endif // CORE_MUSIC_SCALE_H
