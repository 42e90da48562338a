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
  char root[4];
  Hand hand;
  char fingers[16];
} MajorRow;

/// The major scales of every tutor; common practice, no source.
ParameterizedTestParameters(fingering, major_scales)
{
  static MajorRow rows[] = {
    {"C", HAND_RIGHT, "1 2 3 1 2 3 4 5"},
    {"G", HAND_RIGHT, "1 2 3 1 2 3 4 5"},
    {"D", HAND_RIGHT, "1 2 3 1 2 3 4 5"},
    {"A", HAND_RIGHT, "1 2 3 1 2 3 4 5"},
    {"E", HAND_RIGHT, "1 2 3 1 2 3 4 5"},
    {"B", HAND_RIGHT, "1 2 3 1 2 3 4 5"},
    {"F", HAND_RIGHT, "1 2 3 4 1 2 3 4"},
    {"Bb", HAND_RIGHT, "2 1 2 3 1 2 3 4"},
    {"C", HAND_LEFT, "5 4 3 2 1 3 2 1"},
    {"G", HAND_LEFT, "5 4 3 2 1 3 2 1"},
    {"D", HAND_LEFT, "5 4 3 2 1 3 2 1"},
    {"A", HAND_LEFT, "5 4 3 2 1 3 2 1"},
    {"E", HAND_LEFT, "5 4 3 2 1 3 2 1"},
    {"F", HAND_LEFT, "5 4 3 2 1 3 2 1"},
  };
  return cr_make_param_array(MajorRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(MajorRow* row, fingering, major_scales)
{
  uint8_t  pitches[FINGERING_CAPACITY];
  uint8_t  fingers[FINGERING_CAPACITY];
  char     text[2 * FINGERING_CAPACITY];
  Spelling root;
  cr_assert(spelling_parse(&root, row->root));
  const unsigned n = lay(0, 60 + spelling_pitch_class(root), pitches);
  fingering_find(row->hand, pitches, n, fingers);
  cr_assert_str_eq(
    text_of(fingers, n, text), row->fingers, "%s: %s", row->root, text);
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
