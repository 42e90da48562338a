#include "profiles/plan/fingering.h"

#include "core/music/scale.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <string.h>

/// Lay a scale out for an octave from a pitch, with the tonic on top; return
/// how many keys.
static unsigned
lay(const ScaleKind kind, const unsigned from, uint8_t* const pitches)
{
  unsigned              n       = 0;
  const Interval* const degrees = scale_degrees(kind, &n);
  for (unsigned i = 0; i < n; ++i) {
    pitches[i] = (uint8_t)(from + (unsigned)degrees[i].semitones);
  }
  pitches[n] = (uint8_t)(from + 12);
  return n + 1;
}

static const char*
text_of(const uint8_t* const fingers, const unsigned n, char* const text)
{
  for (unsigned i = 0; i < n; ++i) {
    (void)sprintf(text + 2 * i, "%u ", (unsigned)fingers[i]);
  }
  text[2 * n - 1] = '\0';
  return text;
}

/// The table has one or two fingerings a scale, common practice; each scale's
/// is one of them.
Test(fingering, of_the_table)
{
  Table    table;
  unsigned n_scales = 0;
  unsigned n_found  = 0;
  char     last[32] = "";
  cr_assert(table_open(&table, BARTER_TABLES "/fingering_right_hand.csv"));
  while (table_next(&table)) {
    uint8_t   pitches[FINGERING_CAPACITY];
    uint8_t   fingers[FINGERING_CAPACITY];
    char      name[32];
    char      text[2 * FINGERING_CAPACITY];
    Spelling  root;
    ScaleKind kind;
    (void)snprintf(name, sizeof(name), "%s", table_field(&table, "scale"));
    *strchr(name, '_') = ' ';
    cr_assert_eq(scale_kind_named(&kind, name), STATUS_OK);
    cr_assert(spelling_parse(&root, table_field(&table, "root")));
    const unsigned n = lay(kind, 60 + spelling_pitch_class(root), pitches);
    fingering_find(HAND_RIGHT, pitches, n, fingers);
    (void)strcat(strcat(name, " "), table_field(&table, "root"));
    if (strcmp(name, last) != 0) {
      cr_assert_eq(n_found, n_scales, "%s is fingered otherwise", last);
      ++n_scales;
      (void)snprintf(last, sizeof(last), "%s", name);
    }
    n_found +=
      strcmp(text_of(fingers, n, text),
             table_field(&table, "fingers_up_one_octave_incl_top_root")) == 0;
  }
  table_close(&table);
  cr_assert_eq(n_found, n_scales, "%s is fingered otherwise", last);
  cr_assert_eq(n_scales, 11);
}

typedef struct {
  char scale[16];
  char root[4];
  Hand hand;
  char fingers[32]; ///< One or more ways
} TutorRow;

/// The scales of every tutor; common practice, no source.
ParameterizedTestParameters(fingering, of_every_tutor)
{
  static TutorRow rows[] = {
    {"major", "C", HAND_RIGHT, "12312345"},
    {"major", "G", HAND_RIGHT, "12312345"},
    {"major", "D", HAND_RIGHT, "12312345"},
    {"major", "A", HAND_RIGHT, "12312345"},
    {"major", "E", HAND_RIGHT, "12312345"},
    {"major", "B", HAND_RIGHT, "12312345"},
    {"major", "F", HAND_RIGHT, "12341234"},
    {"major", "Bb", HAND_RIGHT, "21231234 | 41231234"},
    {"major", "Eb", HAND_RIGHT, "21234123 | 31234123"},
    {"major", "Ab", HAND_RIGHT, "34123123 | 23123123"},
    {"major", "Db", HAND_RIGHT, "23123412 | 23123413"},
    {"major", "Gb", HAND_RIGHT, "23412312 | 23412313"},
    {"major", "C", HAND_LEFT, "54321321"},
    {"major", "G", HAND_LEFT, "54321321"},
    {"major", "D", HAND_LEFT, "54321321"},
    {"major", "A", HAND_LEFT, "54321321"},
    {"major", "E", HAND_LEFT, "54321321"},
    {"major", "F", HAND_LEFT, "54321321"},
    {"major", "B", HAND_LEFT, "43214321"},
    {"major", "Bb", HAND_LEFT, "32143212 | 32143213"},
    {"major", "Eb", HAND_LEFT, "32143212 | 32143213"},
    {"major", "Ab", HAND_LEFT, "32143212 | 32143213"},
    {"major", "Db", HAND_LEFT, "32143212 | 32143213"},
    {"major", "Gb", HAND_LEFT, "43213212 | 43213213 | 43213214"},
    {"harmonic minor", "C", HAND_RIGHT, "12312345"},
    {"harmonic minor", "G", HAND_RIGHT, "12312345"},
    {"harmonic minor", "D", HAND_RIGHT, "12312345"},
    {"harmonic minor", "A", HAND_RIGHT, "12312345"},
    {"harmonic minor", "E", HAND_RIGHT, "12312345"},
    {"harmonic minor", "B", HAND_RIGHT, "12312345"},
    {"harmonic minor", "F", HAND_RIGHT, "12341234"},
    {"harmonic minor", "Bb", HAND_RIGHT, "21231234 | 41231234"},
    {"harmonic minor", "Eb", HAND_RIGHT, "21234123 | 31234123"},
    {"harmonic minor", "Ab", HAND_RIGHT, "34123123 | 23123123"},
    {"harmonic minor", "Db", HAND_RIGHT, "34123123 | 23123123"},
    {"harmonic minor", "Gb", HAND_RIGHT, "34123123 | 23123123"},
    {"harmonic minor", "C", HAND_LEFT, "54321321"},
    {"harmonic minor", "G", HAND_LEFT, "54321321"},
    {"harmonic minor", "D", HAND_LEFT, "54321321"},
    {"harmonic minor", "A", HAND_LEFT, "54321321"},
    {"harmonic minor", "E", HAND_LEFT, "54321321"},
    {"harmonic minor", "F", HAND_LEFT, "54321321"},
    {"harmonic minor", "B", HAND_LEFT, "43214321"},
    {"harmonic minor", "Bb", HAND_LEFT, "21321432 | 21321433"},
    {"harmonic minor", "Eb", HAND_LEFT, "21432132 | 21432133"},
    {"harmonic minor", "Ab", HAND_LEFT, "32143212 | 32143213"},
    {"harmonic minor", "Db", HAND_LEFT, "32143212 | 32143213"},
    {"harmonic minor", "Gb", HAND_LEFT, "43213212 | 43213213 | 43213214"},
  };
  return cr_make_param_array(TutorRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(TutorRow* row, fingering, of_every_tutor)
{
  uint8_t   pitches[FINGERING_CAPACITY];
  uint8_t   fingers[FINGERING_CAPACITY];
  char      text[FINGERING_CAPACITY] = "";
  Spelling  root;
  ScaleKind kind = 0;
  cr_assert(spelling_parse(&root, row->root));
  cr_assert_eq(scale_kind_named(&kind, row->scale), STATUS_OK);
  const unsigned n = lay(kind, 60 + spelling_pitch_class(root), pitches);
  fingering_find(row->hand, pitches, n, fingers);
  for (unsigned i = 0; i < n; ++i) {
    text[i] = (char)('0' + fingers[i]);
  }
  cr_assert_not_null(
    strstr(row->fingers, text), "%s %s: %s", row->root, row->scale, text);
}

/// Return how many black keys lie side by side about a key.
static unsigned
blacks_about(const uint8_t* const pitches, const unsigned n, const unsigned at)
{
  unsigned first = at;
  unsigned last  = at;
  while (first > 0 && fingering_is_black(pitches[first - 1])) {
    --first;
  }
  while (last + 1 < n && fingering_is_black(pitches[last + 1])) {
    ++last;
  }
  return fingering_is_black(pitches[at]) ? last - first + 1 : 0;
}

/// Every scale on every key, both hands: the thumb is on a black key only where
/// four or more lie side by side, so that no white one is within the reach of
/// the other fingers; fingers are fingers, and none plays two keys running.
Test(fingering, thumb_stays_off_the_black_keys)
{
  for (ScaleKind kind = 0; kind < scale_kinds(); ++kind) {
    for (unsigned from = 48; from < 60; ++from) {
      uint8_t        pitches[FINGERING_CAPACITY];
      uint8_t        fingers[FINGERING_CAPACITY];
      const unsigned n = lay(kind, from, pitches);
      for (Hand hand = HAND_LEFT; hand <= HAND_RIGHT; ++hand) {
        fingering_find(hand, pitches, n, fingers);
        for (unsigned i = 0; i < n; ++i) {
          cr_assert(fingers[i] >= 1 && fingers[i] <= N_FINGERS);
          cr_assert(i == 0 || fingers[i] != fingers[i - 1]);
          cr_assert(fingers[i] != 1 || !fingering_is_black(pitches[i]) ||
                      blacks_about(pitches, n, i) >= 4,
                    "%s on %u",
                    scale_kind_name(kind),
                    from);
        }
      }
    }
  }
}

Test(fingering, black_keys_by_name)
{
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    cr_assert_eq(fingering_is_black(pitch),
                 strchr("\1\3\6\10\12", (int)(pitch % 12)) != NULL &&
                   pitch % 12 != 0);
  }
}
