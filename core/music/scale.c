#include "core/music/scale.h"

#include "core/music/pitch.h"
#include "core/music/text.h"

#include <assert.h>
#include <string.h>

typedef struct {
  char     name[SCALE_TEXT_CAPACITY - SPELLING_TEXT_CAPACITY];
  Interval degrees[SCALE_DEGREE_CAPACITY]; ///< A number of 0 ends them
  /// A flat fifth that would take a double flat is written as a raised fourth.
  bool may_raise_fourth;
} ScaleRow;

static const ScaleRow rows[] = {
  {"major", {{1, 0}, {2, 2}, {3, 4}, {4, 5}, {5, 7}, {6, 9}, {7, 11}}, false},
  {"natural minor",
   {{1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 7}, {6, 8}, {7, 10}},
   false},
  {"harmonic minor",
   {{1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 7}, {6, 8}, {7, 11}},
   false},
  {"melodic minor",
   {{1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 7}, {6, 9}, {7, 11}},
   false},
  {"dorian", {{1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 7}, {6, 9}, {7, 10}}, false},
  {"phrygian",
   {{1, 0}, {2, 1}, {3, 3}, {4, 5}, {5, 7}, {6, 8}, {7, 10}},
   false},
  {"lydian", {{1, 0}, {2, 2}, {3, 4}, {4, 6}, {5, 7}, {6, 9}, {7, 11}}, false},
  {"mixolydian",
   {{1, 0}, {2, 2}, {3, 4}, {4, 5}, {5, 7}, {6, 9}, {7, 10}},
   false},
  {"locrian", {{1, 0}, {2, 1}, {3, 3}, {4, 5}, {5, 6}, {6, 8}, {7, 10}}, false},
  {"minor blues", {{1, 0}, {3, 3}, {4, 5}, {5, 6}, {5, 7}, {7, 10}}, true},
  {"major blues", {{1, 0}, {2, 2}, {3, 3}, {3, 4}, {5, 7}, {6, 9}}, false},
  {"minor pentatonic", {{1, 0}, {3, 3}, {4, 5}, {5, 7}, {7, 10}}, false},
  {"major pentatonic", {{1, 0}, {2, 2}, {3, 4}, {5, 7}, {6, 9}}, false},
  {"altered", {{1, 0}, {2, 1}, {2, 3}, {3, 4}, {4, 6}, {6, 8}, {7, 10}}, false},
  {"half whole dim",
   {{1, 0}, {2, 1}, {3, 3}, {3, 4}, {4, 6}, {5, 7}, {6, 9}, {7, 10}},
   false},
  {"whole half dim",
   {{1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 6}, {6, 8}, {6, 9}, {7, 11}},
   false},
  {"bebop dominant",
   {{1, 0}, {2, 2}, {3, 4}, {4, 5}, {5, 7}, {6, 9}, {7, 10}, {7, 11}},
   false},
  {"lydian dominant",
   {{1, 0}, {2, 2}, {3, 4}, {4, 6}, {5, 7}, {6, 9}, {7, 10}},
   false},
  {"whole tone", {{1, 0}, {2, 2}, {3, 4}, {4, 6}, {5, 8}, {6, 10}}, false},
  {"locrian nat2",
   {{1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 6}, {6, 8}, {7, 10}},
   false},
  {"chromatic",
   {{1, 0},
    {2, 1},
    {2, 2},
    {3, 3},
    {3, 4},
    {4, 5},
    {5, 6},
    {5, 7},
    {6, 8},
    {6, 9},
    {7, 10},
    {7, 11}},
   false},
};

enum { N_ROWS = sizeof(rows) / sizeof(*rows) };

#define TONE(n) (1U << (n))

/// The scale a chord suggests: the first row whose tones the chord has and
/// whose other tones it lacks (semitones above the root; common practice, no
/// source).
static const struct {
  uint16_t has;
  uint16_t lacks;
  char     scale[SCALE_TEXT_CAPACITY - SPELLING_TEXT_CAPACITY];
} suggestions[] = {
  // Dominants: a major third and a minor seventh
  {TONE(4) | TONE(10) | TONE(1) | TONE(8), 0, "altered"}, // 7alt, 7b9b13
  {TONE(4) | TONE(10) | TONE(3) | TONE(8), 0, "altered"}, // 7#5#9
  {TONE(4) | TONE(10) | TONE(1), 0, "half whole dim"},    // 7b9, 13b9
  {TONE(4) | TONE(10) | TONE(3), 0, "half whole dim"},    // 7#9
  {TONE(4) | TONE(10) | TONE(8), 0, "whole tone"},        // 7#5, 9b13
  {TONE(4) | TONE(10) | TONE(6), TONE(7), "whole tone"},  // 7b5
  {TONE(4) | TONE(10) | TONE(6), 0, "lydian dominant"},   // 7#11
  {TONE(4) | TONE(10), 0, "mixolydian"},
  // Other major thirds
  {TONE(4) | TONE(8) | TONE(11), 0, "lydian"}, // maj7#5
  {TONE(4) | TONE(8), TONE(7), "whole tone"},  // aug
  {TONE(4) | TONE(6), 0, "lydian"},            // maj7#11
  {TONE(4), 0, "major"},
  // Minor thirds
  {TONE(3) | TONE(6) | TONE(10), TONE(7), "locrian"}, // m7b5
  {TONE(3) | TONE(6), TONE(7), "whole half dim"},     // dim, dim7
  {TONE(3) | TONE(11), 0, "melodic minor"},           // mMaj7
  {TONE(3) | TONE(9), TONE(10), "melodic minor"},     // m6
  {TONE(3) | TONE(1), 0, "phrygian"},                 // m7b9
  {TONE(3) | TONE(8), 0, "natural minor"},            // m7b13
  {TONE(3), 0, "dorian"},
  // Suspended
  {TONE(5) | TONE(10) | TONE(1), 0, "phrygian"}, // 7sus4b9
  {TONE(5) | TONE(11), 0, "major"},
  {TONE(5), 0, "mixolydian"},
  {0, 0, "major"},
};

unsigned
scale_kinds(void)
{
  return N_ROWS;
}

const char*
scale_kind_name(const ScaleKind kind)
{
  assert(kind < N_ROWS);
  return rows[kind].name;
}

Status
scale_kind_named(ScaleKind* const kind, const char* const name)
{
  for (unsigned i = 0; i < N_ROWS; ++i) {
    if (strcmp(rows[i].name, name) == 0) {
      *kind = i;
      return STATUS_OK;
    }
  }
  return STATUS_MISSING;
}

bool
scale_equals(const Scale a, const Scale b)
{
  return a.kind == b.kind && a.tonic.letter == b.tonic.letter &&
         a.tonic.alter == b.tonic.alter;
}

const Interval*
scale_degrees(const ScaleKind kind, unsigned* const n_degrees)
{
  assert(kind < N_ROWS);
  unsigned n = 0;
  while (n < SCALE_DEGREE_CAPACITY && rows[kind].degrees[n].number) {
    ++n;
  }
  *n_degrees = n;
  return rows[kind].degrees;
}

uint16_t
scale_pitch_classes(const Scale scale)
{
  unsigned              n       = 0;
  const Interval* const degrees = scale_degrees(scale.kind, &n);
  unsigned              classes = 0;
  for (unsigned i = 0; i < n; ++i) {
    classes |=
      TONE(spelling_pitch_class(spelling_above(scale.tonic, degrees[i])));
  }
  return (uint16_t)classes;
}

bool
scale_spell(const Scale scale, const unsigned pitch, Spelling* const spelling)
{
  static const Interval flat_fifth    = {5, 6};
  static const Interval raised_fourth = {4, 6};

  unsigned              n       = 0;
  const Interval* const degrees = scale_degrees(scale.kind, &n);
  for (unsigned i = 0; i < n; ++i) {
    Spelling degree = spelling_above(scale.tonic, degrees[i]);
    if (spelling_pitch_class(degree) != pitch % PITCH_CLASSES) {
      continue;
    }
    if (rows[scale.kind].may_raise_fourth && degree.alter < -1 &&
        degrees[i].semitones == flat_fifth.semitones) {
      degree = spelling_above(scale.tonic, raised_fourth);
    }
    *spelling = degree;
    return true;
  }
  return false;
}

Scale
scale_readable(const Scale scale)
{
  unsigned              n       = 0;
  const Interval* const degrees = scale_degrees(scale.kind, &n);
  const Spelling        tonic   = spelling_readable(scale.tonic, degrees, n);
  return (Scale){tonic, scale.kind};
}

Scale
scale_for_chord(const Chord* const chord)
{
  unsigned i = 0; // The last row fits every chord
  while ((chord->all_mask & suggestions[i].has) != suggestions[i].has ||
         (chord->all_mask & suggestions[i].lacks) != 0) {
    ++i;
  }

  Scale        scale  = {chord->root, 0};
  const Status status = scale_kind_named(&scale.kind, suggestions[i].scale);
  assert(status == STATUS_OK);
  (void)status;
  return scale;
}

const char*
scale_text(const Scale scale, char buffer[SCALE_TEXT_CAPACITY])
{
  char tonic[SPELLING_TEXT_CAPACITY];
  Text text = text_begin(buffer, SCALE_TEXT_CAPACITY);
  text_add(&text, spelling_text(scale.tonic, tonic));
  text_add(&text, " ");
  text_add(&text, scale_kind_name(scale.kind));
  return buffer;
}
