#include "profiles/plan/left_hand.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static Chart     chart;
static HandShape shapes[CHART_CHANGE_CAPACITY];

static void
write_chart(const char* const key, const char* const bars)
{
  char fault[CHART_FAULT_CAPACITY];
  Key  read;
  cr_assert_eq(key_parse(&read, key), STATUS_OK);
  chart_begin(&chart, "T", (Meter){4, 4}, read);
  char  copy[200];
  char* rest = copy;
  (void)snprintf(copy, sizeof(copy), "%s", bars);
  for (char* bar = strtok_r(copy, "|", &rest); bar;
       bar       = strtok_r(NULL, "|", &rest)) {
    cr_assert_eq(chart_add_bar(&chart, bar, fault), STATUS_OK, "%s", bar);
  }
}

static const char*
text_of(const HandShape* const shape, char* const text)
{
  text[0] = '\0';
  for (unsigned i = 0; i < shape->n; ++i) {
    (void)sprintf(text + strlen(text),
                  "%s%u:%u",
                  i ? " " : "",
                  shape->pitches[i],
                  shape->fingers[i]);
  }
  return text;
}

// C7 as C E G Bb and F7 near it as C Eb F A, 48 is the C below middle C; triads
// 5 3 1, with a fourth at the bottom 5 2 1 (common practice, no source)
typedef struct {
  char     key[12];
  char     bars[40];
  unsigned change;
  char     shape[40];
} ShapeRow;

ParameterizedTestParameters(left_hand, shapes)
{
  static ShapeRow rows[] = {
    {"C major", "C7|F7", 0, "48:5 52:3 55:2 58:1"},
    {"C major", "C7|F7", 1, "48:5 51:3 53:2 57:1"},
    {"C major", "C7|F7|C7|G7", 2, "48:5 52:3 55:2 58:1"},
    {"C major", "C7|F7|C7|G7", 3, "50:5 53:3 55:2 59:1"},
    {"C major", "C7|N.C.|F7", 1, ""},
    {"C major", "C7|N.C.|F7", 2, "48:5 51:3 53:2 57:1"},
    {"C major", "C|F|G", 0, "48:5 52:3 55:1"},
    {"C major", "C|F|G", 1, "48:5 53:2 57:1"},
    {"C major", "Cmaj7|Am7", 1, "48:5 52:3 55:2 57:1"},
    {"C major", "F7|Bb7", 1, "53:5 56:3 58:2 62:1"},
    {"C major", "F7|G7", 1, "53:5 55:4 59:2 62:1"},
  };
  return cr_make_param_array(ShapeRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const ShapeRow* row, left_hand, shapes)
{
  char text[80];
  write_chart(row->key, row->bars);
  left_hand_shapes(&chart, shapes);
  cr_assert_str_eq(
    text_of(&shapes[row->change], text), row->shape, "%s", row->bars);
}

// Over every pair of seventh chords: all of the chord and nothing else, within
// the hand, from the little finger to the thumb, no finger twice, and never
// further than a fourth for any finger
Test(left_hand, moves_little_between_all_seventh_chords)
{
  static const char* const roots[] = {
    "C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};
  static const char* const kinds[] = {"7", "m7", "maj7", "m7b5"};
  for (unsigned i = 0; i < 48; ++i) {
    for (unsigned j = 0; j < 48; ++j) {
      char bars[40];
      (void)snprintf(bars,
                     sizeof(bars),
                     "%s%s|%s%s",
                     roots[i % 12],
                     kinds[i / 12],
                     roots[j % 12],
                     kinds[j / 12]);
      write_chart("C major", bars);
      const unsigned last = chart.n_changes - 1;
      left_hand_shapes(&chart, shapes);
      const HandShape from  = shapes[0];
      const HandShape shape = shapes[last];
      const Chord*    chord = &chart.changes[last].chord;
      cr_assert_eq(shape.n, 4U, "%s", bars);
      cr_assert_eq(shape.fingers[0], 5);
      cr_assert_eq(shape.fingers[3], 1);
      cr_assert_leq(shape.pitches[3] - shape.pitches[0], 11);
      for (unsigned k = 0; k < 4; ++k) {
        cr_assert(chord_has_core_tone(chord, shape.pitches[k]), "%s", bars);
        cr_assert_leq(
          abs(shape.pitches[k] - from.pitches[k]), 4, "%s key %u", bars, k);
        cr_assert(k == 0 || shape.fingers[k] < shape.fingers[k - 1]);
      }
    }
  }
}
