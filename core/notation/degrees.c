#include "core/notation/degrees.h"

#include <stdbool.h>
#include <stddef.h>

enum { KIND_TONES = 7 };

typedef struct {
  const char* name;
  unsigned    n_tones;
  Interval    tones[KIND_TONES];
} Kind;

#define ROOT                                                                   \
  {                                                                            \
    1, 0                                                                       \
  }
#define SECOND                                                                 \
  {                                                                            \
    2, 2                                                                       \
  }
#define MINOR_THIRD                                                            \
  {                                                                            \
    3, 3                                                                       \
  }
#define MAJOR_THIRD                                                            \
  {                                                                            \
    3, 4                                                                       \
  }
#define FOURTH                                                                 \
  {                                                                            \
    4, 5                                                                       \
  }
#define FLAT_FIFTH                                                             \
  {                                                                            \
    5, 6                                                                       \
  }
#define FIFTH                                                                  \
  {                                                                            \
    5, 7                                                                       \
  }
#define SHARP_FIFTH                                                            \
  {                                                                            \
    5, 8                                                                       \
  }
#define SIXTH                                                                  \
  {                                                                            \
    6, 9                                                                       \
  }
#define DIMINISHED_SEVENTH                                                     \
  {                                                                            \
    7, 9                                                                       \
  }
#define MINOR_SEVENTH                                                          \
  {                                                                            \
    7, 10                                                                      \
  }
#define MAJOR_SEVENTH                                                          \
  {                                                                            \
    7, 11                                                                      \
  }
#define NINTH                                                                  \
  {                                                                            \
    9, 14                                                                      \
  }
#define ELEVENTH                                                               \
  {                                                                            \
    11, 17                                                                     \
  }
#define THIRTEENTH                                                             \
  {                                                                            \
    13, 21                                                                     \
  }

// The simplest first: it is taken where two leave as many degrees
static const Kind kinds[] = {
  {"major", 3, {ROOT, MAJOR_THIRD, FIFTH}},
  {"minor", 3, {ROOT, MINOR_THIRD, FIFTH}},
  {"augmented", 3, {ROOT, MAJOR_THIRD, SHARP_FIFTH}},
  {"diminished", 3, {ROOT, MINOR_THIRD, FLAT_FIFTH}},
  {"suspended-fourth", 3, {ROOT, FOURTH, FIFTH}},
  {"suspended-second", 3, {ROOT, SECOND, FIFTH}},
  {"dominant", 4, {ROOT, MAJOR_THIRD, FIFTH, MINOR_SEVENTH}},
  {"major-seventh", 4, {ROOT, MAJOR_THIRD, FIFTH, MAJOR_SEVENTH}},
  {"minor-seventh", 4, {ROOT, MINOR_THIRD, FIFTH, MINOR_SEVENTH}},
  {"half-diminished", 4, {ROOT, MINOR_THIRD, FLAT_FIFTH, MINOR_SEVENTH}},
  {"diminished-seventh",
   4,
   {ROOT, MINOR_THIRD, FLAT_FIFTH, DIMINISHED_SEVENTH}},
  {"major-minor", 4, {ROOT, MINOR_THIRD, FIFTH, MAJOR_SEVENTH}},
  {"augmented-seventh", 4, {ROOT, MAJOR_THIRD, SHARP_FIFTH, MINOR_SEVENTH}},
  {"major-sixth", 4, {ROOT, MAJOR_THIRD, FIFTH, SIXTH}},
  {"minor-sixth", 4, {ROOT, MINOR_THIRD, FIFTH, SIXTH}},
  {"dominant-ninth", 5, {ROOT, MAJOR_THIRD, FIFTH, MINOR_SEVENTH, NINTH}},
  {"major-ninth", 5, {ROOT, MAJOR_THIRD, FIFTH, MAJOR_SEVENTH, NINTH}},
  {"minor-ninth", 5, {ROOT, MINOR_THIRD, FIFTH, MINOR_SEVENTH, NINTH}},
  {"dominant-11th",
   6,
   {ROOT, MAJOR_THIRD, FIFTH, MINOR_SEVENTH, NINTH, ELEVENTH}},
  {"major-11th", 6, {ROOT, MAJOR_THIRD, FIFTH, MAJOR_SEVENTH, NINTH, ELEVENTH}},
  {"minor-11th", 6, {ROOT, MINOR_THIRD, FIFTH, MINOR_SEVENTH, NINTH, ELEVENTH}},
  {"dominant-13th",
   7,
   {ROOT, MAJOR_THIRD, FIFTH, MINOR_SEVENTH, NINTH, ELEVENTH, THIRTEENTH}},
  {"major-13th",
   7,
   {ROOT, MAJOR_THIRD, FIFTH, MAJOR_SEVENTH, NINTH, ELEVENTH, THIRTEENTH}},
  {"minor-13th",
   7,
   {ROOT, MINOR_THIRD, FIFTH, MINOR_SEVENTH, NINTH, ELEVENTH, THIRTEENTH}},
};

enum { N_KINDS = sizeof(kinds) / sizeof(*kinds) };

static bool
chord_holds(const Chord* const chord, const Interval tone)
{
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    if (chord->tones[i].number == tone.number &&
        chord->tones[i].semitones == tone.semitones) {
      return true;
    }
  }
  return false;
}

// The semitones of a kind's tone of a number; -1 if it has none
static int
kind_semitones(const Kind* const kind, const unsigned number)
{
  for (unsigned i = 0; i < kind->n_tones; ++i) {
    if (kind->tones[i].number == number) {
      return kind->tones[i].semitones;
    }
  }
  return -1;
}

static void
add(ChordDegrees* const found,
    const unsigned      number,
    const int           alter,
    const DegreeType    type)
{
  found->degrees[found->n_degrees++] =
    (Degree){(uint8_t)number, (int8_t)alter, (uint8_t)type};
}

static int
dominant_semitones(const unsigned number)
{
  return interval_major(number) - (number == 7);
}

// What makes a kind of chord the chord. Of a tone that the kind has and the
// chord has altered, once or twice, the first alteration takes its place.
static ChordDegrees
degrees_from(const Kind* const kind, const Chord* const chord)
{
  ChordDegrees found   = {.kind = kind->name};
  uint16_t     altered = 0; // Bit n: the kind's tone of that number
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const Interval tone = chord->tones[i];
    const int      had  = kind_semitones(kind, tone.number);
    if (had == tone.semitones) {
      continue;
    }
    const unsigned bit = 1U << (unsigned)tone.number;
    if (had < 0 || altered & bit ||
        chord_holds(chord, (Interval){tone.number, (int8_t)had})) {
      add(&found,
          tone.number,
          tone.semitones - dominant_semitones(tone.number),
          DEGREE_ADD);
    } else {
      add(&found, tone.number, tone.semitones - had, DEGREE_ALTER);
      altered |= (uint16_t)bit;
    }
  }
  for (unsigned i = 0; i < kind->n_tones; ++i) {
    const Interval tone = kind->tones[i];
    if (!chord_holds(chord, tone) && !((unsigned)altered >> tone.number & 1U)) {
      add(&found, tone.number, 0, DEGREE_SUBTRACT);
    }
  }
  return found;
}

ChordDegrees
degrees_of(const Chord* const chord)
{
  ChordDegrees best = degrees_from(&kinds[0], chord);
  for (unsigned i = 1; i < N_KINDS; ++i) {
    const ChordDegrees found = degrees_from(&kinds[i], chord);
    best                     = found.n_degrees < best.n_degrees ? found : best;
  }
  return best;
}
