// Chords as kinds and degrees, as the MusicXML 4.0 report has them
// ("kind-value" and the examples of "degree"), from memory.

#include "core/notation/degrees.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <string.h>

enum { TEXT = 96 };

typedef struct {
  char symbol[16];
  char expected[TEXT]; // The kind, then `+9-1`: add a 9, a semitone down, ...
} DegreesRow;

ParameterizedTestParameters(degrees, kinds)
{
  static DegreesRow rows[] = {
    {"C", "major"},
    {"Cm", "minor"},
    {"Caug", "augmented"},
    {"Cdim", "diminished"},
    {"C7", "dominant"},
    {"Cmaj7", "major-seventh"},
    {"Cm7", "minor-seventh"},
    {"Cdim7", "diminished-seventh"},
    {"Cm7b5", "half-diminished"},
    {"CmMaj7", "major-minor"},
    {"C6", "major-sixth"},
    {"Cm6", "minor-sixth"},
    {"C9", "dominant-ninth"},
    {"Cmaj9", "major-ninth"},
    {"Cm9", "minor-ninth"},
    {"Csus4", "suspended-fourth"},
    {"Csus2", "suspended-second"},
    {"C7b9", "dominant add 9 -1"},
    {"C7#9", "dominant add 9 1"},
    {"C7b5", "dominant alter 5 -1"},
    {"C6/9", "major-sixth add 9 0"},
    {"Cadd9", "major add 9 0"},
    {"C7b9b13", "dominant add 9 -1 add 13 -1"},
    {"C9#11", "dominant-ninth add 11 1"},
    {"Cm7/Bb", "minor-seventh"},
  };
  return cr_make_param_array(DegreesRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
write_degrees(const ChordDegrees* const found, char text[TEXT])
{
  static const char* const types[] = {"add", "alter", "subtract"};
  size_t                   n = (size_t)snprintf(text, TEXT, "%s", found->kind);
  for (unsigned i = 0; i < found->n_degrees; ++i) {
    const Degree degree = found->degrees[i];
    n += (size_t)snprintf(text + n,
                          TEXT - n,
                          " %s %d %d",
                          types[degree.type],
                          degree.number,
                          degree.alter);
  }
}

ParameterizedTest(DegreesRow* row, degrees, kinds)
{
  Chord chord;
  char  text[TEXT];
  cr_assert_eq(chord_parse(&chord, row->symbol, strlen(row->symbol)),
               STATUS_OK,
               "%s",
               row->symbol);
  const ChordDegrees found = degrees_of(&chord);
  write_degrees(&found, text);
  cr_assert_str_eq(text, row->expected, "%s: %s", row->symbol, text);
}
