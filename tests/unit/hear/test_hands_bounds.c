// Both sides of each number that parts the hands (hands.c): TOGETHER.together,
// overlapping, rolled, roll, overlap; LEFT.many, low, very_low, bass, under,
// under_ms, neighbours; CRUSHED.least_ms, ms, shorter, semitones. Ticks are
// milliseconds here; the split is middle C. People hear two onsets as one up to
// about 30 ms and as two beyond 60 (Hove, Keller & Krumhansl 2007); the rest is
// common practice, no source.

#include "responder/hear/hands.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { MOST = 12 };

typedef struct {
  Tick     tick;
  Tick     length;
  unsigned pitch;
} Played;

typedef struct {
  char     name[48];
  unsigned n;
  Played   played[MOST];
  unsigned n_melody; ///< Without grace notes
  unsigned n_grace;
} HandsRow;

/// Six melody notes of the same pitch, a quarter of a second each.
#define LINE(p)                                                                \
  {0, 240, (p)}, {250, 240, (p)}, {500, 240, (p)}, {750, 240, (p)},            \
    {1000, 240, (p)},                                                          \
  {                                                                            \
    1250, 240, (p)                                                             \
  }

ParameterizedTestParameters(hands_bounds, both_sides)
{
  static HandsRow rows[] = {
    {"apart 30 ms, not overlapping", 2, {{0, 20, 64}, {30, 20, 76}}, 1, 0},
    {"apart 31 ms, not overlapping", 2, {{0, 20, 64}, {31, 20, 76}}, 2, 0},
    {"apart 50 ms, overlapping", 2, {{0, 400, 64}, {50, 400, 76}}, 1, 0},
    {"apart 51 ms, overlapping", 2, {{0, 400, 64}, {51, 400, 76}}, 2, 0},
    {"half of it overlaps", 2, {{0, 80, 64}, {40, 100, 76}}, 1, 0},
    {"less than half overlaps", 2, {{0, 79, 64}, {40, 100, 76}}, 2, 0},
    {"rolled, 30 ms apart",
     3,
     {{0, 400, 64}, {30, 400, 70}, {60, 400, 76}},
     1,
     0},
    {"rolled, 31 ms apart",
     3,
     {{0, 400, 64}, {30, 400, 70}, {61, 400, 76}},
     2,
     0},
    {"rolled over 100 ms",
     5,
     {{0, 400, 60},
      {25, 400, 64},
      {50, 400, 70},
      {75, 400, 76},
      {100, 400, 82}},
     1,
     0},
    {"rolled over 101 ms",
     5,
     {{0, 400, 60},
      {26, 400, 64},
      {51, 400, 70},
      {76, 400, 76},
      {101, 400, 82}},
     2,
     0},
    {"three together near the melody",
     9,
     {LINE(62), {1500, 200, 50}, {1500, 200, 55}, {1500, 200, 59}},
     6,
     0},
    {"two together near the melody",
     8,
     {LINE(62), {1500, 200, 50}, {1500, 200, 59}},
     7,
     0},
    {"a pair a fourth below the melody",
     8,
     {LINE(62), {1500, 200, 50}, {1500, 200, 57}},
     6,
     0},
    {"a pair a third below the melody",
     8,
     {LINE(62), {1500, 200, 50}, {1500, 200, 58}},
     7,
     0},
    {"three above the split, a seventh below",
     9,
     {LINE(72), {1500, 200, 50}, {1500, 200, 55}, {1500, 200, 62}},
     6,
     0},
    {"three above the split, a sixth below",
     9,
     {LINE(72), {1500, 200, 50}, {1500, 200, 55}, {1500, 200, 63}},
     7,
     0},
    {"a bass note, a tenth below",
     8,
     {LINE(72), {1500, 900, 72}, {1700, 300, 56}},
     7,
     0},
    {"a low note, less than that below",
     8,
     {LINE(72), {1500, 900, 72}, {1700, 300, 57}},
     8,
     0},
    {"an octave under what sounds",
     8,
     {LINE(72), {1500, 900, 68}, {1700, 300, 56}},
     7,
     0},
    {"a seventh under what sounds",
     8,
     {LINE(72), {1500, 900, 67}, {1700, 300, 56}},
     8,
     0},
    {"under what sounds for 100 ms",
     8,
     {LINE(72), {1500, 300, 72}, {1700, 300, 56}},
     7,
     0},
    {"under what sounds for 99 ms",
     8,
     {LINE(72), {1500, 299, 72}, {1700, 300, 56}},
     8,
     0},
    {"a short note, all of it under",
     8,
     {LINE(72), {1500, 260, 72}, {1700, 60, 56}},
     7,
     0},
    {"a short note, not all of it",
     8,
     {LINE(72), {1500, 259, 72}, {1700, 60, 56}},
     8,
     0},
    {"six notes tell where the melody is",
     9,
     {{0, 240, 60},
      {250, 240, 72},
      {500, 240, 72},
      {750, 240, 72},
      {1000, 240, 60},
      {1250, 240, 60},
      {1500, 240, 60},
      {1750, 200, 50},
      {1750, 200, 57}},
     7,
     0},
    {"crushed, 10 ms before", 2, {{0, 60, 72}, {10, 400, 74}}, 1, 1},
    {"too near to be crushed", 2, {{0, 60, 72}, {9, 400, 74}}, 1, 0},
    {"crushed, of 100 ms", 2, {{0, 100, 72}, {30, 400, 74}}, 1, 1},
    {"too long to be crushed", 2, {{0, 101, 72}, {30, 400, 74}}, 1, 0},
    {"crushed into one twice as long", 2, {{0, 60, 72}, {30, 120, 74}}, 1, 1},
    {"... not twice as long", 2, {{0, 60, 72}, {30, 119, 74}}, 1, 0},
    {"crushed, a third below", 2, {{0, 60, 70}, {30, 400, 74}}, 1, 1},
    {"too far to be crushed", 2, {{0, 60, 69}, {30, 400, 74}}, 1, 0},
  };
  return cr_make_param_array(HandsRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(HandsRow* row, hands_bounds, both_sides)
{
  static Phrase   phrase;
  static HearWork work;
  const Hands     hands = {.ms_per_tick = 1.0, .split_pitch = 60};
  Note            notes[MOST];
  unsigned        n_grace = 0;
  for (unsigned i = 0; i < row->n; ++i) {
    const Played it = row->played[i];
    notes[i]        = (Note){it.tick, it.length, (uint8_t)it.pitch, 80};
  }
  hands_part(&phrase, &work, hands, notes, row->n);
  for (unsigned i = 0; i < phrase.n_notes; ++i) {
    n_grace += phrase.notes[i].is_ornament;
  }
  cr_assert_eq(n_grace, row->n_grace, "%s: %u", row->name, n_grace);
  cr_assert_eq(phrase.n_notes - n_grace,
               row->n_melody,
               "%s: %u",
               row->name,
               phrase.n_notes - n_grace);
}
